import { type CubicSpline, createCubicSpline, SPLINE } from "../math/cubic-spline.ts";
import { JOINT } from "./joint-drives.ts";

/**
 * Joints that move as they were measured: through the measured angles by a cubic spline, twice continuously differentiable, whatever torque that takes. It starts from where and as fast as the joint moves and
 * ends at rest; from then on its servo holds the last angle.
 */
export interface JointProfiles {
	/** Points of [time from now, angle]; the first stands for where the joint is now. `n`: joints of the stepper that `own` is of. */
	follow(own: Float64Array, n: number, i: number, points: readonly (readonly [number, number])[]): void;
	leave(i: number): void;
	/** Whether joint `i` follows one. */
	leads(i: number): boolean;
	readonly any: boolean;
	/** Angle and speed of the joints that follow one, at the clock that stands in `own`, into `own`; accelerations into `out`. Allocates nothing. */
	prescribe(own: Float64Array, n: number, out: Float64Array): void;
	/** Those that have come to their end become their servos' again. */
	finish(own: Float64Array, n: number): void;
}

/** Of a flight's clock, which is a sum of steps. */
const LATE_SEC = 1e-9;

/** For the first `count` joints of a stepper with any number of them. */
export function createJointProfiles(count: number): JointProfiles {
	const splines: (CubicSpline | null)[] = new Array(count).fill(null);
	const startSec = new Float64Array(count);
	const work = new Float64Array(SPLINE.length);
	return {
		follow(own, n, i, points) {
			const [first, ...rest] = points;
			splines[i] = createCubicSpline([[first![0], own[i]!], ...rest], own[n + i]!, 0);
			startSec[i] = own[JOINT.blocks * n]!;
			own[JOINT.target * n + i] = rest[rest.length - 1]![1];
			own[JOINT.pace * n + i] = 0;
		},
		leave(i) {
			splines[i] = null;
		},
		leads: (i) => i < count && splines[i] !== null,
		get any() {
			for (let i = 0; i < count; i++) if (splines[i] !== null) return true;
			return false;
		},
		prescribe(own, n, out) {
			for (let i = 0; i < count; i++) {
				const spline = splines[i];
				if (!spline) continue;
				work[SPLINE.time] = own[JOINT.blocks * n]! - startSec[i]!;
				spline.evaluate(work);
				own[i] = work[SPLINE.value]!;
				own[n + i] = work[SPLINE.slope]!;
				own[JOINT.shaft * n + i] = work[SPLINE.value]!;
				own[JOINT.shaftSpeed * n + i] = work[SPLINE.slope]!;
				out[i] = work[SPLINE.bend]!;
			}
		},
		finish(own, n) {
			for (let i = 0; i < count; i++) {
				const spline = splines[i];
				if (spline && own[JOINT.blocks * n]! - startSec[i]! > spline.to - LATE_SEC) splines[i] = null;
			}
		},
	};
}
