import type { AxisGains, FilterSpec, FixedGainSet } from "../control/spec.ts";
import type { CraftModel } from "./craft-problem.ts";
import { authorityOf } from "./craft-problem.ts";
import type { Gains4 } from "./loop-test.ts";
import type { AxisSearchProblem } from "./problem.ts";

/** How the rest of a gain set is filled; the numbers are this file's. */
export const GAIN_SET_RULES: readonly string[] = [
	"output limit: the room between the hover command and the nearer end, at most 0.4; yaw half of that",
	"integral limit: half the output limit",
	"rate limit: what the stick from full one way to full the other asks for, and no more than k_angle can brake with half of the output limit; yaw: the stick's own",
	"derivative low-pass: ten times the axis's natural frequency, at most a quarter of the gyro's sample rate",
	"set-point weight 1, no feed-forward, no angle integral",
];

const LEAST_RATE_LIMIT = 0.5;

/** Complete gains of the three axes. */
export function completeSet(
	model: CraftModel,
	name: string,
	filters: readonly FilterSpec[],
	axes: readonly { readonly problem: AxisSearchProblem; readonly gains: Gains4 }[],
): FixedGainSet {
	const [roll, pitch, yaw] = axes.map(({ problem, gains }, i): AxisGains => {
		const authority = authorityOf(model, problem.axis);
		const turning = authority / problem.tables[0]!.holdPerNm / model.inertiaKgM2[i as 0 | 1 | 2];
		return {
			kAngle: gains[0],
			kAngleI: 0,
			kp: gains[1],
			ki: gains[2],
			kd: gains[3],
			kff: 0,
			setPointWeight: 1,
			integralLimit: authority / 2,
			outputLimit: authority,
			rateLimitRadPerSec:
				problem.axis === "yaw"
					? model.craft.sticks.fullTurnRateRadPerSec
					: Math.max(
							LEAST_RATE_LIMIT,
							Math.min(turning / 2 / gains[0], 2 * model.craft.sticks.fullTiltRad * gains[0]),
						),
			angleIntegralLimitRadPerSec: 0,
			derivativeCutoffHz: problem.numbers.derivativeCutoffHz,
		};
	});
	return { name, structure: "cascade", roll: roll!, pitch: pitch!, yaw: yaw!, filters };
}
