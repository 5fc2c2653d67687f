import { fixed, type Judgement, ms, type Rule, say } from "./finding-rule.ts";
import type { MarginsBrief } from "./report-types.ts";

/** What the gains keep to instability. */
export const MARGIN_RULES: readonly Rule[] = [
	{
		name: "margins",
		judge: ({ margins }) => (margins ? marginFinding(margins) : null),
	},
];

/** Weakest margin by its share of the classic requirement: 6 dB and 45 degrees (SAE AS94900 / MIL-DTL-9490, from memory). */
function marginFinding(margins: MarginsBrief): Judgement {
	if (!margins.periodic.stable)
		return say(
			"stop",
			`With these gains the craft is unstable: it grows by a factor ${margins.periodic.spectralRadius.toPrecision(4)} every ${ms(1e6 * margins.periodic.hyperperiodSec)}.`,
			"largest eigenvalue over one repetition of the clocks",
		);
	let weakest = { share: Number.POSITIVE_INFINITY, text: "" };
	for (const [axis, m] of Object.entries(margins.axes))
		for (const [name, loop] of [
			["rate loop", m.rateLoop],
			["angle loop", m.angleLoop],
			["whole axis", m.wholeAxis],
		] as const) {
			const offer = (value: number | null | undefined, need: number, unit: string, what: string): void => {
				if (value === null || value === undefined || value / need >= weakest.share) return;
				weakest = { share: value / need, text: `${axis} ${name}, ${what} ${fixed(value, 1)} ${unit}` };
			};
			offer(loop?.gainMarginUpDb.value, 6, "dB", "gain margin up");
			offer(loop?.gainMarginDownDb.value, 6, "dB", "gain margin down");
			offer(loop?.phaseMarginDeg.value, 45, "deg", "phase margin");
		}
	const reason =
		"6 dB and 45 degrees are the classic flight-control requirement (SAE AS94900 / MIL-DTL-9490, from memory)";
	if (weakest.text === "")
		return say("fine", "No loop has a limit: all 3 axes are stable at any gain.", reason);
	if (weakest.share < 0.5)
		return say("stop", `Weakest margin: ${weakest.text}, under half of what is asked for.`, reason);
	return say(weakest.share < 1 ? "care" : "fine", `Weakest margin: ${weakest.text}.`, reason);
}
