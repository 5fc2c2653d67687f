import type { Craft, OperatingPoint } from "../craft/model.ts";
import { BODY } from "../physics/joint-tree.ts";
import { createKernel, type Kernel } from "../physics/kernel-layout.ts";
import { limbForces } from "../physics/limb-drag.ts";
import { createLimbStepper } from "../physics/limb-stepper.ts";
import { limbTree } from "../physics/limb-tree.ts";
import { loadsAt, poseAt } from "../physics/plant-at.ts";
import { preload } from "../physics/servo-torque.ts";
import type { Settled } from "../physics/trim.ts";

/** Joints that move by themselves in steady flight: a load that swings or sloshes, a link on a soft servo. */
export interface MovingJoints {
	/** Per joint: which of the craft's axes it lies along most. */
	readonly axes: readonly (0 | 1 | 2)[];
	/** dx and d(angles, speeds) with the joints `away` (angles, then speeds) from where they rest. */
	slopes(
		kernel: Kernel,
		x: Float64Array,
		away: Float64Array,
		u: Float64Array,
		air: Float64Array,
		outside: Float64Array,
		dx: Float64Array,
		dAway: Float64Array,
	): void;
}

/**
 * Null where nothing moves by itself. Servos hold their targets; a soft link rests where its spring carries what the trim asks of it, its play taken up.
 */
export function movingJoints(
	craft: Craft,
	point: OperatingPoint,
	{ plant, down, servoNm }: Pick<Settled, "plant" | "down" | "servoNm">,
): MovingJoints | null {
	const loads = loadsAt(craft, point);
	const made = limbTree(craft, loads, poseAt(craft, point), down);
	const yields = made.drives.flatMap((drive, i) => (drive.kind === "servo" ? [] : [i]));
	if (yields.length === 0) return null;
	const n = made.tree.bodies.length;
	const spec = {
		plant,
		tree: made.tree,
		inertiaFactor: point.inertiaFactor,
		startRad: made.startRad,
		forces: limbForces(craft, made, loads),
	};
	const stepper = createLimbStepper({ ...spec, drives: made.drives });
	const own = new Float64Array(stepper.ownLength);
	const dOwn = new Float64Array(stepper.ownLength);
	const kernel = createKernel(plant);
	stepper.begin(kernel, own, made.startRad);
	preload(made.drives, servoNm, own);
	const rest = own.slice();
	const { bodies } = stepper.posture;
	const axes = yields.map((i) => {
		const along = [0, 1, 2].map((k) => Math.abs(bodies[BODY.length * i + BODY.axis + k]!));
		return along.indexOf(Math.max(...along)) as 0 | 1 | 2;
	});
	const count = yields.length;
	return {
		axes,
		slopes(of, at, away, u, airThere, outside, dx, dAway) {
			own.set(rest);
			yields.forEach((i, k) => {
				own[i]! += away[k]!;
				own[n + i]! += away[count + k]!;
			});
			stepper.slopesAt(of, at, own, u, airThere, outside, dx, dOwn);
			yields.forEach((i, k) => {
				dAway[k] = dOwn[i]!;
				dAway[count + k] = dOwn[n + i]!;
			});
		},
	};
}
