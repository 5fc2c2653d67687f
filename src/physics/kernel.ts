import { evolve } from "./evolve.ts";
import {
	AIR_ROUGHNESS,
	GYRO,
	HEAD_SIZE,
	type Kernel,
	MOMENTUM,
	ROTOR_STRIDE,
	ROTORS,
	WORK_CARRY,
	WORK_OWN,
	WORK_STEP,
	WORK_WEIGHED_STEP,
	WORK_WEIGHTS,
} from "./kernel-layout.ts";
import { stepLean } from "./lean.ts";
import { meetBranches } from "./meet-branches.ts";
import { slope } from "./slope.ts";

/**
 * Steps of the equations of motion on the momentum state (docs/model.md sections 3 and 4). Array layouts in kernel-layout.ts.
 * `u`, one per rotor: steady speed per volt, curve(c) speedFactor / V_ref.
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
	if (kernel.rotorCount === 4 && kernel.p[22] === 1 && !(air[AIR_ROUGHNESS]! > 0)) {
		evolve(kernel.p, work, x, u, air, outside);
		if (kernel.p[18]! > 0) stepLean(kernel.p, work, x);
	} else evolveAny(kernel, x, u, air, outside);
}

/** The step of any craft, over slope.ts. */
function evolveAny(
	kernel: Kernel,
	x: Float64Array,
	u: Float64Array,
	air: Float64Array,
	outside: Float64Array,
): void {
	const { work, p, at, dx, start } = kernel;
	const size = ROTORS + kernel.rotorCount;
	const h = work[WORK_STEP]!;
	let carried0 = 0;
	let carried1 = 0;
	let carried2 = 0;
	for (let i = 0; i < size; i++) {
		const v = x[i]!;
		at[i] = v;
		start[i] = v;
	}
	for (let stage = 0; stage < 4; stage++) {
		slope(kernel, at, u, air, 3 * ((stage + 1) >> 1), outside, dx);
		const weight = stage === 0 || stage === 3 ? h / 6 : h / 3;
		const ahead = stage < 2 ? 0.5 * h : h;
		if (stage === 0) {
			const ofStart = work[WORK_CARRY]!;
			const ofFirst = work[WORK_CARRY + 1]!;
			carried0 = ofStart * work[WORK_OWN]! + ofFirst * work[WORK_OWN + 3]!;
			carried1 = ofStart * work[WORK_OWN + 1]! + ofFirst * work[WORK_OWN + 4]!;
			carried2 = ofStart * work[WORK_OWN + 2]! + ofFirst * work[WORK_OWN + 5]!;
		} else if (stage === 3) {
			const ofLast = work[WORK_CARRY + 2]!;
			carried0 += ofLast * work[WORK_OWN + 3]!;
			carried1 += ofLast * work[WORK_OWN + 4]!;
			carried2 += ofLast * work[WORK_OWN + 5]!;
		}
		for (let i = 0; i < size; i++) {
			const d = dx[i]!;
			x[i] = x[i]! + weight * d;
			at[i] = start[i]! + ahead * d;
		}
	}
	// One Newton step back to a unit quaternion: its drift is of the method's own order.
	const unit = 1.5 - 0.5 * (x[6]! * x[6]! + x[7]! * x[7]! + x[8]! * x[8]! + x[9]! * x[9]!);
	for (let i = 6; i < 10; i++) x[i] = x[i]! * unit;
	const decay = work[WORK_WEIGHTS + 4]!;
	const ofEnd = work[WORK_CARRY + 3]!;
	carried0 += ofEnd * x[MOMENTUM]!;
	carried1 += ofEnd * x[MOMENTUM + 1]!;
	carried2 += ofEnd * x[MOMENTUM + 2]!;
	for (let i = 0, rotor = HEAD_SIZE; i < kernel.rotorCount; i++, rotor += ROTOR_STRIDE) {
		const w = ofEnd * x[ROTORS + i]!;
		carried0 -= p[rotor + 12]! * w;
		carried1 -= p[rotor + 13]! * w;
		carried2 -= p[rotor + 14]! * w;
	}
	// J^-1 of the body's own momentum is its rates.
	x[GYRO] = decay * start[GYRO]! + p[2]! * carried0 + p[5]! * carried1 + p[6]! * carried2;
	x[GYRO + 1] = decay * start[GYRO + 1]! + p[5]! * carried0 + p[3]! * carried1 + p[7]! * carried2;
	x[GYRO + 2] = decay * start[GYRO + 2]! + p[6]! * carried0 + p[7]! * carried1 + p[4]! * carried2;
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
	slope(kernel, x, u, air, 0, outside, dx);
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
	work[WORK_WEIGHTS] = stepSec * (m1 - 1.5 * m2 + (2 / 3) * m3);
	work[WORK_WEIGHTS + 1] = stepSec * (m2 - (2 / 3) * m3);
	work[WORK_WEIGHTS + 2] = work[WORK_WEIGHTS + 1]!;
	work[WORK_WEIGHTS + 3] = stepSec * (-0.5 * m2 + (2 / 3) * m3);
	// E = exp(-z) = 1 - m0.
	work[WORK_WEIGHTS + 4] = 1 - m0;
	work[WORK_WEIGHTS + 5] = m0;
	// The middle slopes from the sum: h/6 (k1 + 2 k2 + 2 k3 + k4) is end less start.
	const ofMiddle = 3 * (m2 - (2 / 3) * m3);
	work[WORK_CARRY] = m0 - ofMiddle;
	work[WORK_CARRY + 1] = work[WORK_WEIGHTS]! - 0.5 * work[WORK_WEIGHTS + 1]!;
	work[WORK_CARRY + 2] = work[WORK_WEIGHTS + 3]! - 0.5 * work[WORK_WEIGHTS + 1]!;
	work[WORK_CARRY + 3] = ofMiddle;
	work[WORK_WEIGHED_STEP] = stepSec;
}

meetBranches(stepHeld);
