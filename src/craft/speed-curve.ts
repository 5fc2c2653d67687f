import type { SpeedCurve } from "./model.ts";

/**
 * A rising curve through its points: piecewise cubic Hermite, monotone by the conditions of Fritsch and Carlson
 * (SIAM J. Numer. Anal. 17 (1980) 238-246) with the inner slopes of Fritsch and Butland (SIAM J. Sci. Stat. Comput.
 * 5 (1984) 300-304) and three-point ends: what general libraries call PCHIP. Two points give the straight line.
 * x: command, y: steady rotor speed in rad/s at the reference voltage, dydx: slopes at the points. Equal lengths.
 */
export interface MonotoneCurve {
	readonly x: Float64Array;
	readonly y: Float64Array;
	readonly dydx: Float64Array;
}

/** @throws RangeError on fewer than two points, unequal lengths, or commands or speeds that do not rise. */
export function prepareCurve(curve: SpeedCurve): MonotoneCurve {
	const x = Float64Array.from(curve.commands);
	const y = Float64Array.from(curve.speedsRadPerSec);
	if (x.length < 2 || x.length !== y.length)
		throw new RangeError(
			`speed curve: ${x.length} commands and ${y.length} speeds, expected the same number, at least 2`,
		);
	for (let i = 0; i < x.length; i++) {
		if (!Number.isFinite(x[i]!) || !Number.isFinite(y[i]!))
			throw new RangeError(`speed curve: point ${i} is (${x[i]}, ${y[i]}), expected finite numbers`);
		if (i > 0 && !(x[i]! > x[i - 1]!))
			throw new RangeError(`speed curve: command ${x[i]} follows ${x[i - 1]}, expected rising commands`);
		if (i > 0 && !(y[i]! > y[i - 1]!))
			throw new RangeError(`speed curve: speed ${y[i]} follows ${y[i - 1]}, expected rising speeds`);
	}
	return { x, y, dydx: pchipSlopes(x, y) };
}

function pchipSlopes(x: Float64Array, y: Float64Array): Float64Array {
	const n = x.length;
	const h = (i: number): number => x[i + 1]! - x[i]!;
	const chord = (i: number): number => (y[i + 1]! - y[i]!) / h(i);
	const slopes = new Float64Array(n);
	if (n === 2) return slopes.fill(chord(0));
	for (let i = 1; i < n - 1; i++) {
		const w1 = 2 * h(i) + h(i - 1);
		const w2 = h(i) + 2 * h(i - 1);
		slopes[i] = (w1 + w2) / (w1 / chord(i - 1) + w2 / chord(i));
	}
	slopes[0] = endSlope(h(0), h(1), chord(0), chord(1));
	slopes[n - 1] = endSlope(h(n - 2), h(n - 3), chord(n - 2), chord(n - 3));
	return slopes;
}

/** Three-point one-sided estimate, held within what keeps the end piece monotone; both chords are positive. */
function endSlope(near: number, far: number, chordNear: number, chordFar: number): number {
	const slope = ((2 * near + far) * chordNear - near * chordFar) / (near + far);
	return Math.max(slope, 0);
}

function pieceOf(x: Float64Array, at: number): number {
	let low = 0;
	let high = x.length - 2;
	while (low < high) {
		const middle = (low + high + 1) >> 1;
		if (x[middle]! <= at) low = middle;
		else high = middle - 1;
	}
	return low;
}

/** Steady speed: 0 below the first command (start-up dead zone), the last speed above the last. Allocates nothing. */
export function speedAt({ x, y, dydx }: MonotoneCurve, command: number): number {
	if (command < x[0]!) return 0;
	const last = x.length - 1;
	if (command >= x[last]!) return y[last]!;
	const i = pieceOf(x, command);
	const h = x[i + 1]! - x[i]!;
	const t = (command - x[i]!) / h;
	const s = 1 - t;
	return (
		s * s * ((1 + 2 * t) * y[i]! + h * t * dydx[i]!) +
		t * t * ((3 - 2 * t) * y[i + 1]! - h * s * dydx[i + 1]!)
	);
}

/** d speed / d command; at the last command the slope from below, at the first from above, 0 outside. */
export function slopeAt({ x, y, dydx }: MonotoneCurve, command: number): number {
	const last = x.length - 1;
	if (command < x[0]! || command > x[last]!) return 0;
	const i = pieceOf(x, command);
	const h = x[i + 1]! - x[i]!;
	const t = (command - x[i]!) / h;
	const s = 1 - t;
	return (6 * t * s * (y[i + 1]! - y[i]!)) / h + s * (1 - 3 * t) * dydx[i]! + t * (3 * t - 2) * dydx[i + 1]!;
}

/** The command that gives a speed; below the first speed the first command, above the last the last command. */
export function commandFor(curve: MonotoneCurve, speedRadPerSec: number): number {
	const { x, y } = curve;
	const last = x.length - 1;
	if (speedRadPerSec <= y[0]!) return x[0]!;
	if (speedRadPerSec >= y[last]!) return x[last]!;
	const i = pieceOf(y, speedRadPerSec);
	let low = x[i]!;
	let high = x[i + 1]!;
	let command = low + ((high - low) * (speedRadPerSec - y[i]!)) / (y[i + 1]! - y[i]!);
	for (let k = 0; k < 60; k++) {
		const miss = speedAt(curve, command) - speedRadPerSec;
		if (miss === 0) break;
		if (miss > 0) high = command;
		else low = command;
		const slope = slopeAt(curve, command);
		const newton = command - miss / slope;
		const next = newton > low && newton < high ? newton : (low + high) / 2;
		if (Math.abs(next - command) <= 1e-16) break;
		command = next;
	}
	return command;
}
