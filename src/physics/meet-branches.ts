import {
	AIR_ROUGHNESS,
	AIR_SIZE,
	ATTITUDE,
	blankKernel,
	HEAD_SIZE,
	type Kernel,
	OUTSIDE_SIZE,
	ROTOR_STRIDE,
	ROTORS,
	stateSize,
	WORK_STEP,
} from "./kernel-layout.ts";

type Step = (
	kernel: Kernel,
	x: Float64Array,
	u: Float64Array,
	air: Float64Array,
	outside: Float64Array,
) => void;

/** As often as V8 wants before it keeps what the small laws of a rotor have met. */
const TIMES = 64;

/**
 * Takes both ways through the kernel (four rotors alike, any rotors), and there both ways at each branch. V8 compiles a step
 * from what it has met so far, drops it at a branch that is new, and Node 20 then, one time in twenty, never compiles it
 * again: ten times slower for good (measured). A millisecond, once.
 */
export function meetBranches(step: Step): void {
	const x = new Float64Array(stateSize(4));
	const u = new Float64Array(4);
	const air = new Float64Array(AIR_SIZE);
	const outside = new Float64Array(OUTSIDE_SIZE);
	for (const alike of [1, 0])
		for (const on of [1, 0]) {
			const kernel = blankKernel(4);
			const p = kernel.p.fill(0.01);
			// Nearly empty: no real root. Low-pass, estimator, ground effect.
			p[14] = on ? 0 : 20;
			p[17] = 600 * on;
			p[18] = on;
			p[21] = on;
			p[22] = alike;
			for (let i = 0, at = HEAD_SIZE; i < 4; i++, at += ROTOR_STRIDE) {
				p[at + 5] = -1;
				p[at + 6] = 1e-5;
				// Small enough for the fuller battery.
				p[at + 7] = 1e-7;
				p[at + 10] = 18;
				p[at + 11] = 13;
				p[at + 21] = i % 2 ? 1 : -1;
			}
			kernel.work[WORK_STEP] = 1e-3;
			// Wind that shears, of which four rotors alike are spared.
			air[AIR_ROUGHNESS] = alike ? 0 : 0.03 * on;
			for (let k = 0; k < TIMES; k++) {
				x.fill(0);
				x.fill(500, ROTORS);
				x[ATTITUDE] = 1;
				// In the ground and above it, falling and rising, speeding up and slowing down.
				x[2] = k % 2 ? 1 : -10;
				x[5] = k % 2 ? 50 : -50;
				u.fill(k % 4 < 2 ? 1000 : 0);
				step(kernel, x, u, air, outside);
			}
		}
}
