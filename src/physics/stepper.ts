import type { Kernel } from "./kernel-layout.ts";
import type { Plant } from "./plant.ts";

/**
 * A way to take one step when something holds or touches the craft: ground under its feet, a pivot, strings. What acts depends on the
 * state inside a step, so each of the four stages of Runge-Kutta asks anew; a craft in free air takes the kernel's own step.
 */
export interface Stepper {
	/** How many numbers of its own it keeps in the flight's state, such as where each foot sticks. */
	readonly ownLength: number;
	/** True where the free step gives the same: nothing touches now, nor within a few milliseconds. Allocates nothing. */
	idle(x: Float64Array): boolean;
	/**
	 * One Runge-Kutta step of kernel.work[WORK_STEP] seconds, x and own in place. `outside` is what else acts, as in the
	 * kernel's own step, and is left as it was. Allocates nothing.
	 */
	step(
		kernel: Kernel,
		x: Float64Array,
		u: Float64Array,
		air: Float64Array,
		outside: Float64Array,
		own: Float64Array,
	): void;
	/** The craft's mass has changed in flight. */
	reload?(plant: Plant): void;
}
