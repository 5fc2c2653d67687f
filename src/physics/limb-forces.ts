import type { Posture } from "./joint-tree.ts";

/** Forces from outside on the moving bodies: wind, rotor wash, a grip that is stuck. */
export interface LimbForces {
	/**
	 * Adds to `load` (torque about the centre of the whole, body axes 3; force, world 3) and to `along` (per joint, force times what the joint moves its
	 * point). `turn`: body to world, row by row. Allocates nothing.
	 */
	add(
		posture: Posture,
		x: Float64Array,
		rates: Float64Array,
		turn: Float64Array,
		air: Float64Array,
		p: Float64Array,
		load: Float64Array,
		along: Float64Array,
	): void;
}
