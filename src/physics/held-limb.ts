import type { Craft, OperatingPoint } from "../craft/model.ts";
import type { Vec3 } from "../math/types.ts";
import * as vec3 from "../math/vec3.ts";
import { createTreePoser } from "./joint-tree.ts";
import { bodyRates, type Kernel, OUTSIDE_SIZE } from "./kernel-layout.ts";
import { hangingForces, limbForces } from "./limb-drag.ts";
import type { LimbForces } from "./limb-forces.ts";
import { type CarriedLoad, limbTree } from "./limb-tree.ts";
import { STANDARD_GRAVITY } from "./plant.ts";
import { poseAt } from "./plant-at.ts";
import { writeTurn } from "./turn.ts";

/** Limb and hanging load while they stand still against the craft: what wind and wash do to them there. */
export interface HeldLimb {
	/** Torque about the centre of the whole (body axes) 3 and force (world) 3 at a state, into `outside`. Allocates nothing. */
	act(kernel: Kernel, x: Float64Array, air: Float64Array, outside: Float64Array): void;
	/** The way the load hangs in steady flight, body axes: along its weight and what blows on it. Straight down where nothing hangs. */
	hangsAlong(kernel: Kernel, x: Float64Array, air: Float64Array): Vec3;
}

/** Null where there is nothing for the air to act on: no limb, and nothing hangs. `down`: the way a load hangs, body axes. */
export function heldLimb(
	craft: Craft,
	point: OperatingPoint,
	loads: readonly CarriedLoad[],
	down?: Vec3,
): HeldLimb | null {
	const made = limbTree(craft, loads, poseAt(craft, point), down);
	const n = made.tree.bodies.length;
	if (n === 0) return null;
	const poser = createTreePoser(made.tree);
	const joints = new Float64Array(2 * n);
	joints.set(made.startRad);
	poser.pose(joints);
	const rates = new Float64Array(3);
	const turn = new Float64Array(9);
	const along = new Float64Array(n);
	const sum =
		(forces: LimbForces) =>
		(kernel: Kernel, x: Float64Array, air: Float64Array, outside: Float64Array): void => {
			bodyRates(kernel, x, rates);
			writeTurn(x, turn);
			outside.fill(0);
			along.fill(0);
			forces.add(poser.posture, x, rates, turn, air, kernel.p, outside, along);
		};
	const hanging = sum(hangingForces(craft, made, loads));
	const hungKg = made.tree.bodies.slice(n - made.hanging).reduce((kg, { mass }) => kg + mass.massKg, 0);
	return {
		act: sum(limbForces(craft, made, loads)),
		hangsAlong(kernel, x, air) {
			const outside = new Float64Array(OUTSIDE_SIZE);
			hanging(kernel, x, air, outside);
			const pull: Vec3 = [
				outside[3]!,
				outside[4]!,
				outside[5]! + (hungKg > 0 ? hungKg : 1) * STANDARD_GRAVITY,
			];
			writeTurn(x, turn);
			const inBody = [0, 1, 2].map(
				(k) => turn[k]! * pull[0] + turn[3 + k]! * pull[1] + turn[6 + k]! * pull[2],
			) as unknown as Vec3;
			return vec3.scale(inBody, 1 / vec3.length(inBody));
		},
	};
}
