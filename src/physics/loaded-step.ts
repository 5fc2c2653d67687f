import { derivative } from "./kernel.ts";
import { AIR_SIZE, bodyRates, GYRO, type Kernel, OUTSIDE_SIZE, stateSize } from "./kernel-layout.ts";

/** A piece of a step, numbers that would be boxed if passed: its index, how many pieces, its seconds. */
export const PIECE = { index: 0, count: 1, seconds: 2, length: 3 } as const;

/** `load` becomes `outside` and what else acts at a state: torque about the centre of mass (body) 3, force (world) 3. */
export type LoadsAt = (
	kernel: Kernel,
	x: Float64Array,
	own: Float64Array,
	outside: Float64Array,
	load: Float64Array,
) => void;

/** One piece of a step, x in place. Allocates nothing. */
export type LoadedStep = (
	kernel: Kernel,
	x: Float64Array,
	u: Float64Array,
	air: Float64Array,
	outside: Float64Array,
	own: Float64Array,
	piece: Float64Array,
) => void;

/** Classical Runge-Kutta over the kernel's derivative, `addLoads` asked anew at each of its four stages. */
export function createLoadedStep(rotorCount: number, addLoads: LoadsAt): LoadedStep {
	const size = stateSize(rotorCount);
	const stage = new Float64Array(size);
	const sum = new Float64Array(size);
	const slope = new Float64Array(size);
	const load = new Float64Array(OUTSIDE_SIZE);
	const airNow = new Float64Array(AIR_SIZE);
	const rates0 = new Float64Array(3);
	const rates1 = new Float64Array(3);
	return (kernel, x, u, air, outside, own, piece) => {
		const h = piece[PIECE.seconds]!;
		airNow.set(air);
		bodyRates(kernel, x, rates0);
		stage.set(x);
		sum.set(x);
		for (let s = 0; s < 4; s++) {
			breathe(air, airNow, piece, s);
			addLoads(kernel, stage, own, outside, load);
			derivative(kernel, stage, u, airNow, load, slope);
			const weight = s === 0 || s === 3 ? h / 6 : h / 3;
			const ahead = s < 2 ? h / 2 : h;
			for (let i = 0; i < size; i++) {
				sum[i]! += weight * slope[i]!;
				stage[i] = x[i]! + ahead * slope[i]!;
			}
		}
		for (let i = 0; i < size; i++) if (i < GYRO || i >= GYRO + 3) x[i] = sum[i]!;
		const unit = 1.5 - 0.5 * (x[6]! * x[6]! + x[7]! * x[7]! + x[8]! * x[8]! + x[9]! * x[9]!);
		for (let i = 6; i < 10; i++) x[i]! *= unit;
		bodyRates(kernel, x, rates1);
		carryGyro(kernel.p, x, rates0, rates1, piece);
	};
}

/** Air at stage `s` (0..3) of a piece of the whole step, into the first triple of `now`. */
export function breathe(air: Float64Array, now: Float64Array, piece: Float64Array, s: number): void {
	const share = (piece[PIECE.index]! + (s === 0 ? 0 : s === 3 ? 1 : 0.5)) / piece[PIECE.count]!;
	const late = share > 0.5;
	const part = late ? 2 * share - 1 : 2 * share;
	const from = late ? 3 : 0;
	for (let i = 0; i < 3; i++) now[i] = air[from + i]! + part * (air[from + 3 + i]! - air[from + i]!);
}

/** The gyro's low-pass across a piece, exact for rates that change evenly from `rates0` to `rates1`. */
export function carryGyro(
	p: Float64Array,
	x: Float64Array,
	rates0: Float64Array,
	rates1: Float64Array,
	piece: Float64Array,
): void {
	const z = p[17]! * piece[PIECE.seconds]!;
	if (!(z > 0)) {
		for (let i = 0; i < 3; i++) x[GYRO + i] = rates1[i]!;
		return;
	}
	const gone = -Math.expm1(-z);
	const late = z > 1e-4 ? 1 - gone / z : z / 2 - (z * z) / 6;
	for (let i = 0; i < 3; i++)
		x[GYRO + i] = (1 - gone) * x[GYRO + i]! + gone * rates0[i]! + late * (rates1[i]! - rates0[i]!);
}
