import type { GainSet } from "../control/spec.ts";
import type { Craft } from "../craft/model.ts";
import { benchAnswers, benchProbes, SEEN } from "./bench-probes.ts";
import { motorsNamed } from "./bench-sentences.ts";

/** What an integral that runs on the ground does to the motors of a craft held tilted, propellers off: the control law itself, ticked. */
export function benchCreep(craft: Craft, set: GainSet): string {
	const rateOnly = set.structure === "rateOnly";
	const probes = benchProbes(craft, rateOnly);
	const at = probes.findIndex((each) => each.id === "creep-late");
	const crept = benchAnswers(craft, set, undefined, probes)[at]!;
	const most = crept.reduce((a, b) => Math.max(a, Math.abs(b)), 0);
	const up = Array.from(crept, (c, i) => ({ c, i })).filter(({ c }) => c > 0.5 * most);
	const how = rateOnly
		? "hold it still for five seconds with the roll stick a tenth to the right"
		: "hold it 10 deg right side down for five seconds";
	if (most < SEEN)
		return `Propellers off, live, throttle at 40 %: ${how}: with these gains the integral moves no motor by more than ${(100 * most).toFixed(1)} %, too little to see.`;
	return `Propellers off, live, throttle at 40 %: ${how}: ${motorsNamed(
		craft,
		up.map(({ i }) => i),
	)} creep up by ${(100 * most).toFixed(1)} %.`;
}
