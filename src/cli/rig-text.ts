import { errorsOf } from "../report/fly-json.ts";
import { digits, fixed } from "../report/format.ts";
import type { FlyJson, RigBesideAirJson } from "../report/json/fly.ts";
import { type Paint, paragraph, right, table } from "./text.ts";

/** What the rig does, and where it was flown too the air beside it. */
export function rigText({ rigs, metrics, status }: FlyJson, paint: Paint, width: number): string {
	return rigs
		.map((rig) => {
			const title = `${paint.bold(`On a ${rig.kind === "pivot" ? "pivot" : "string"} rig`)}: gains judged here mislead, because`;
			return (
				paragraph(title, width) +
				rig.sentences.map((each) => paragraph(`- ${each}.`, width, 2)).join("") +
				besideText(rig, { metrics: metrics[rig.axis], status }, paint, width)
			);
		})
		.join("");
}

type Flown = Pick<NonNullable<RigBesideAirJson["air"]>, "metrics" | "status">;

function besideText(rig: RigBesideAirJson, onRig: Flown, paint: Paint, width: number): string {
	const { air } = rig;
	if (!air) return paragraph("--beside-air puts the same drill in the air beside it.", width, 2);
	const { unit } = errorsOf(air.metrics);
	const [held, free] = [onRig.metrics, air.metrics];
	const rows: string[][] = [
		["ended", onRig.status, air.status],
		["overshoot %", fixed(held.overshootPct, 1), fixed(free.overshootPct, 1)],
		["rise ms", fixed(held.riseTimeMs, 0), fixed(free.riseTimeMs, 0)],
		["settled ms", fixed(held.settlingTimeMs, 0), fixed(free.settlingTimeMs, 0)],
		[`end error ${unit}`, fixed(errorsOf(held).atEnd, 2), fixed(errorsOf(free).atEnd, 2)],
		["IAE", fixed(errorsOf(held).iae, 3), fixed(errorsOf(free).iae, 3)],
	];
	const { onRig: held2, inAir } = rig;
	const margin = (
		title: string,
		of: (loop: NonNullable<typeof held2>) => number | null,
		places: number,
	): void => {
		rows.push([title, fixed(held2 && of(held2), places), fixed(inAir && of(inAir), places)]);
	};
	margin("rate loop, phase margin deg", (l) => l.ratePhaseMarginDeg, 1);
	margin("rate loop, gain margin dB", (l) => l.rateGainMarginUpDb, 1);
	margin("rate loop, crossover Hz", (l) => l.rateCrossoverHz, 2);
	margin("whole axis, phase margin deg", (l) => l.wholePhaseMarginDeg, 1);
	margin("whole axis, gain margin dB", (l) => l.wholeGainMarginUpDb, 1);
	margin("shakes at times kp", (l) => l.shakesAtKpTimes, 1);
	margin("and then with Hz", (l) => l.shakeHz, 1);
	return (
		table([{ title: rig.axis }, right("on the rig"), right("in the air")], rows, { width, paint }) +
		paragraph(
			`Inertia times ${digits(rig.inertiaFactor, 2)}, stiffness ${digits(rig.stiffnessNmPerRad, 2)} N m/rad. In the air: the same events at hover throttle. '-': not settled, or not there.`,
			width,
			2,
		)
	);
}
