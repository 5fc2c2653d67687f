import { findMinimum, findRoot } from "../math/search.ts";
import type { LoopGrid } from "./scalar-loop-grid.ts";
import type { Crossing, GainCrossing, LoopResponse, PhaseCrossing } from "./scalar-loop-types.ts";

/** Beyond this |L| a change of sign is a pole on the axis being passed, below one over it a zero; neither is a crossing. */
const POLE = 1e8;

/** Every place on the grid where |L| passes 1 or L passes the negative real axis, refined to rounding. */
export function findCrossings(grid: LoopGrid, respond: LoopResponse): Crossing[] {
	const out = new Float64Array(2);
	const logSize = (w: number): number => {
		respond(w, out);
		return Math.log(Math.hypot(out[0]!, out[1]!));
	};
	/** Sine of the phase: 0 with L on the real axis, whatever its size. */
	const sine = (w: number): number => {
		respond(w, out);
		return out[1]! / Math.hypot(out[0]!, out[1]!);
	};
	const { omega, re, im } = grid;
	const size = omega.map((_, i) => Math.log(Math.hypot(re[i]!, im[i]!)));
	const turn = omega.map((_, i) => im[i]! / Math.hypot(re[i]!, im[i]!));
	const found: Crossing[] = [];
	for (const w of passages(omega, size, logSize, 0.02, () => true)) {
		respond(w, out);
		found.push(gainCrossing(w, out[0]!, out[1]!));
	}
	const negative = (i: number): boolean => re[i]! < 0;
	for (const w of passages(omega, turn, sine, 0.02, negative)) {
		respond(w, out);
		const l = Math.hypot(out[0]!, out[1]!);
		if (out[0]! < 0 && l < POLE && l > 1 / POLE) found.push(phaseCrossing(w, l));
	}
	return found.sort((a, b) => a.radPerSec - b.radPerSec);
}

function gainCrossing(radPerSec: number, re: number, im: number): GainCrossing {
	const past = Math.atan2(-im, -re);
	const turn = past > 0 ? past : past + 2 * Math.PI;
	return { kind: "gain", radPerSec, marginDeg: (past * 180) / Math.PI, delaySec: turn / radPerSec };
}

export const phaseCrossing = (radPerSec: number, size: number): PhaseCrossing => ({
	kind: "phase",
	radPerSec,
	marginDb: -20 * Math.log10(size),
});

/** Zeros of f from its values on the grid, also where it only just dips through 0 between two points. */
function passages(
	omega: readonly number[],
	values: readonly number[],
	f: (w: number) => number,
	near: number,
	allowed: (i: number) => boolean,
): number[] {
	const zeros: number[] = [];
	const last = omega.length - 1;
	for (let i = 0; i <= last; i++) {
		const v = values[i]!;
		if (v === 0 && allowed(i) && isPassage(values, i)) zeros.push(omega[i]!);
		if (i === last) break;
		if (v * values[i + 1]! < 0 && (allowed(i) || allowed(i + 1))) {
			zeros.push(findRoot(f, omega[i]!, omega[i + 1]!));
		}
		if (i === 0 || !allowed(i)) continue;
		const before = values[i - 1]!;
		const after = values[i + 1]!;
		const side = Math.sign(v);
		const valley = side * (before - v) > 0 && side * (after - v) > 0;
		if (!valley || Math.abs(v) > near || before * v <= 0 || after * v <= 0) continue;
		const [w, least] = findMinimum((x) => side * f(x), omega[i - 1]!, omega[i + 1]!);
		if (least < 0) zeros.push(findRoot(f, omega[i - 1]!, w), findRoot(f, w, omega[i + 1]!));
	}
	return zeros;
}

/** A zero on a grid point counts where the sign changes over it, or at the end of the axis. */
function isPassage(values: readonly number[], i: number): boolean {
	if (i === values.length - 1) return values[i - 1] !== 0;
	if (i === 0) return false;
	return values[i - 1]! * values[i + 1]! < 0;
}
