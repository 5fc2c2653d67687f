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

/** What a piece works on: the kernel's state and numbers beside it at the stage of now, their slopes, the air there. */
export interface Stage {
	readonly x: Float64Array;
	readonly beside: Float64Array;
	readonly dx: Float64Array;
	readonly dBeside: Float64Array;
	readonly air: Float64Array;
	readonly sum: Float64Array;
	readonly besideSum: Float64Array;
}

export const createStage = (size: number, besideSize: number): Stage => ({
	x: new Float64Array(size),
	beside: new Float64Array(besideSize),
	dx: new Float64Array(size),
	dBeside: new Float64Array(besideSize),
	air: new Float64Array(AIR_SIZE),
	sum: new Float64Array(size),
	besideSum: new Float64Array(besideSize),
});

/** A piece begins at x and the first numbers of own. */
export function openPiece(stage: Stage, x: Float64Array, own: Float64Array, air: Float64Array): void {
	const { x: there, beside, sum, besideSum } = stage;
	stage.air.set(air);
	for (let i = 0; i < there.length; i++) {
		there[i] = x[i]!;
		sum[i] = x[i]!;
	}
	for (let i = 0; i < beside.length; i++) {
		beside[i] = own[i]!;
		besideSum[i] = own[i]!;
	}
}

/** Classical Runge-Kutta: slopes of stage `s` (0..3) are weighed in, and the next stage is where they lead. */
export function gatherSlopes(
	stage: Stage,
	x: Float64Array,
	own: Float64Array,
	piece: Float64Array,
	s: number,
): void {
	const { x: there, beside, dx, dBeside, sum, besideSum } = stage;
	const h = piece[PIECE.seconds]!;
	const weight = s === 0 || s === 3 ? h / 6 : h / 3;
	const ahead = s < 2 ? h / 2 : h;
	for (let i = 0; i < there.length; i++) {
		sum[i]! += weight * dx[i]!;
		there[i] = x[i]! + ahead * dx[i]!;
	}
	for (let i = 0; i < beside.length; i++) {
		besideSum[i]! += weight * dBeside[i]!;
		beside[i] = own[i]! + ahead * dBeside[i]!;
	}
}

/** The piece's end into x and own, gyro readings left as they were. */
export function closePiece({ sum, besideSum }: Stage, x: Float64Array, own: Float64Array): void {
	for (let i = 0; i < sum.length; i++) if (i < GYRO || i >= GYRO + 3) x[i] = sum[i]!;
	for (let i = 0; i < besideSum.length; i++) own[i] = besideSum[i]!;
	const unit = 1.5 - 0.5 * (x[6]! * x[6]! + x[7]! * x[7]! + x[8]! * x[8]! + x[9]! * x[9]!);
	for (let i = 6; i < 10; i++) x[i]! *= unit;
}

/** A rigid craft: the kernel's derivative, `addLoads` asked anew at each stage. */
export function createLoadedStep(rotorCount: number, addLoads: LoadsAt): LoadedStep {
	const stage = createStage(stateSize(rotorCount), 0);
	const load = new Float64Array(OUTSIDE_SIZE);
	const rates0 = new Float64Array(3);
	const rates1 = new Float64Array(3);
	return (kernel, x, u, air, outside, own, piece) => {
		bodyRates(kernel, x, rates0);
		openPiece(stage, x, own, air);
		for (let s = 0; s < 4; s++) {
			breathe(air, stage.air, piece, s);
			addLoads(kernel, stage.x, own, outside, load);
			derivative(kernel, stage.x, u, stage.air, load, stage.dx);
			gatherSlopes(stage, x, own, piece, s);
		}
		closePiece(stage, x, own);
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
