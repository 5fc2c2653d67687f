import type { HoverReport } from "../analysis/craft-report-types.ts";
import type { FeltFrequencies } from "../analysis/report-types.ts";
import { AXES, type AxisName } from "../control/spec.ts";
import { fixed } from "./format.ts";

/** What the first hover is stopped for. */
export interface StopRule {
	readonly rule: "fastShake" | "slowWallow" | "tilt" | "stick" | "time";
	/** What is seen, and what to do, with its number. */
	readonly sentence: string;
	/** Why that number. */
	readonly reason: string;
}

export interface StopRuleInput {
	readonly felt: { readonly [A in AxisName]: FeltFrequencies };
	/** Null: the craft cannot hover, and nothing else matters. */
	readonly hover: HoverReport | null;
	/** Tilt at full stick, rad; a hover needs far less. */
	readonly fullTiltRad: number;
}

/** Uncommanded tilt at which a hover a metre up is over: common practice, no source. */
const TILT_DEG = 20;
/** Share of the endurance that a first hover may use: common practice, no source. */
const TIME_SHARE = 0.5;

/** The rules in the order of how fast each goes wrong. A craft that cannot hover has one: do not. */
export function stopRules({ felt, hover, fullTiltRad }: StopRuleInput): StopRule[] {
	if (!hover)
		return [
			{
				rule: "stick",
				sentence: "Do not spin it up: on these numbers it cannot hover.",
				reason: "no trim at this operating point",
			},
		];
	const rules: StopRule[] = [];
	const shake = soonest(felt, (each) => each.fastShake);
	if (shake)
		rules.push({
			rule: "fastShake",
			sentence: `It shakes at about ${fixed(shake.limit.hz, 1)} Hz, or the motors sing in that beat: throttle down at once, then ${shake.axis} kp down by a third.`,
			reason: `${shake.axis} kp stands at 1/${fixed(shake.limit.factor, 1)} of where that shake holds itself`,
		});
	const wallow = soonest(felt, (each) => each.slowWallow);
	if (wallow)
		rules.push({
			rule: "slowWallow",
			sentence: `It sways at about ${fixed(wallow.limit.hz, 2)} Hz and does not calm down in three swings: land, then ${wallow.axis} ${wallow.limit.gain === "kAngle" ? "k_angle" : wallow.limit.gain} down by a third.`,
			reason: `${wallow.axis} ${wallow.limit.gain === "kAngle" ? "k_angle" : wallow.limit.gain} stands at 1/${fixed(wallow.limit.factor, 1)} of where that sway holds itself`,
		});
	const tilt = Math.min(TILT_DEG, (0.7 * fullTiltRad * 180) / Math.PI);
	rules.push({
		rule: "tilt",
		sentence: `It leans more than ${fixed(tilt, 0)} degrees that no stick asked for: throttle shut, do not try to save it.`,
		reason: "a hover in light air leans a few degrees (common practice, no source)",
	});
	rules.push({
		rule: "stick",
		sentence: `It does not lift by ${fixed(100 * hover.stickRange[1], 0)} % stick, or lifts below ${fixed(100 * hover.stickRange[0], 0)} %: throttle down; something weighs, spins or reads otherwise than the model.`,
		reason: `hover is expected at ${fixed(100 * hover.stick, 0)} %, within that range over battery, load and thrust`,
	});
	if (hover.enduranceMin !== null)
		rules.push({
			rule: "time",
			sentence: `${fixed(TIME_SHARE * hover.enduranceMin, 0)} minutes have passed: land, feel the motors, measure the battery.`,
			reason: `half of the ${fixed(hover.enduranceMin, 0)} minutes that it would hover (common practice, no source)`,
		});
	return rules;
}

/** Of all axes, the limit that is nearest in gain. */
function soonest(
	felt: StopRuleInput["felt"],
	pick: (each: FeltFrequencies) => FeltFrequencies["fastShake"],
): { readonly axis: AxisName; readonly limit: NonNullable<FeltFrequencies["fastShake"]> } | null {
	return AXES.flatMap((axis) => {
		const limit = pick(felt[axis]);
		return limit ? [{ axis, limit }] : [];
	}).reduce<ReturnType<typeof soonest>>(
		(least, each) => (least && least.limit.factor <= each.limit.factor ? least : each),
		null,
	);
}
