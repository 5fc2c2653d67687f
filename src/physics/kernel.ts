import { evolve } from "./evolve.ts";
import { type Kernel, WORK_CARRY, WORK_STEP, WORK_WEIGHED_STEP } from "./kernel-layout.ts";

/**
 * The equations of motion, written once: momentum state, rotors, battery, drag, ground effect (docs/model.md sections 3
 * and 4). Array layouts in kernel-layout.ts. `u`, one per rotor: steady speed per volt, curve(c) speedFactor / V_ref.
 */

/** One classical Runge-Kutta step of `stepSec` from x to x, in place. */
export function step(
	kernel: Kernel,
	x: Float64Array,
	u: Float64Array,
	air: Float64Array,
	outside: Float64Array,
	stepSec: number,
): void {
	kernel.work[WORK_STEP] = stepSec;
	stepHeld(kernel, x, u, air, outside);
}

/** `step` of kernel.work[WORK_STEP] seconds: no number is passed, so none is boxed in a flight's loop. */
export function stepHeld(
	kernel: Kernel,
	x: Float64Array,
	u: Float64Array,
	air: Float64Array,
	outside: Float64Array,
): void {
	const { work } = kernel;
	if (work[WORK_WEIGHED_STEP] !== work[WORK_STEP]) denseWeights(kernel.p, work);
	evolve(kernel.rotorCount, kernel.p, work, x, u, air, outside, x);
}

/** The low-pass's weights for a step of kernel.work[WORK_STEP], into work[WORK_WEIGHTS..]: of the four stages' w', of g, of w. */
export function weighLowPass(kernel: Kernel): void {
	const { work } = kernel;
	if (work[WORK_WEIGHED_STEP] !== work[WORK_STEP]) denseWeights(kernel.p, work);
}

/** dx/dt at x with the air of the step's start. */
export function derivative(
	kernel: Kernel,
	x: Float64Array,
	u: Float64Array,
	air: Float64Array,
	outside: Float64Array,
	dx: Float64Array,
): void {
	kernel.work[WORK_STEP] = 0;
	evolve(kernel.rotorCount, kernel.p, kernel.work, x, u, air, outside, dx);
}

/**
 * Weights that carry a first-order low-pass g' = a (w - g) across a step exactly for the cubic w of Runge-Kutta's own dense
 * output (b1 = s - 3/2 s^2 + 2/3 s^3, b2 = b3 = s^2 - 2/3 s^3, b4 = -1/2 s^2 + 2/3 s^3; Hairer, Norsett, Wanner, Solving
 * Ordinary Differential Equations I, II.6, from memory): g+ = E g + m0 w + h sum d_i w'_i, with m_k the integral over
 * 0..1 of z exp(-z (1-s)) s^k ds, z = a h. Without a low-pass (a = 0) g is w at the step's end.
 */
function denseWeights(p: Float64Array, work: Float64Array): void {
	const a = p[17]!;
	const stepSec = work[WORK_STEP]!;
	const z = a * stepSec;
	let m0 = 1;
	let m1 = 1;
	let m2 = 1;
	let m3 = 1;
	if (a > 0 && z < 2) {
		let term = z / 4;
		m3 = 0;
		for (let j = 0; j < 40 && m3 + term !== m3; j++) {
			m3 += term;
			term *= -z / (j + 5);
		}
		m2 = ((1 - m3) * z) / 3;
		m1 = ((1 - m2) * z) / 2;
		m0 = (1 - m1) * z;
	} else if (a > 0) {
		m0 = -Math.expm1(-z);
		m1 = 1 - m0 / z;
		m2 = 1 - (2 * m1) / z;
		m3 = 1 - (3 * m2) / z;
	}
	work[16] = stepSec * (m1 - 1.5 * m2 + (2 / 3) * m3);
	work[17] = stepSec * (m2 - (2 / 3) * m3);
	work[18] = work[17]!;
	work[19] = stepSec * (-0.5 * m2 + (2 / 3) * m3);
	work[20] = a > 0 ? Math.exp(-z) : 0;
	work[21] = m0;
	// The middle slopes from the sum: h/6 (k1 + 2 k2 + 2 k3 + k4) is end less start.
	const ofMiddle = (3 * work[17]!) / stepSec;
	work[WORK_CARRY] = m0 - ofMiddle;
	work[WORK_CARRY + 1] = work[16]! - 0.5 * work[17]!;
	work[WORK_CARRY + 2] = work[19]! - 0.5 * work[17]!;
	work[WORK_CARRY + 3] = ofMiddle;
	work[WORK_WEIGHED_STEP] = stepSec;
}
