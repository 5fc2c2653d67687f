import type { SpeedCurve } from "./model.ts";

/**
 * A rising curve through its points: piecewise cubic Hermite, monotone by the conditions of Fritsch and Carlson
 * (SIAM J. Numer. Anal. 17 (1980) 238-246) with the inner slopes of Fritsch and Butland (SIAM J. Sci. Stat. Comput.
 * 5 (1984) 300-304) and three-point ends: what general libraries call PCHIP. Two points give the straight line.
 * x: command, y: steady rotor speed in rad/s at the reference voltage, dydx: slopes at the points. Equal lengths.
 */
interface MonotoneCurve {
	readonly x: Float64Array;
	readonly y: Float64Array;
	readonly dydx: Float64Array;
}

/** @throws RangeError on fewer than two points, unequal lengths, or commands or speeds that do not rise. */
function prepareCurve(curve: SpeedCurve): MonotoneCurve {
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

/** Slopes are worked out once for each curve. */
const prepared = new WeakMap<SpeedCurve, MonotoneCurve>();

function preparedOf(curve: SpeedCurve): MonotoneCurve {
	let known = prepared.get(curve);
	if (known === undefined) {
		known = prepareCurve(curve);
		prepared.set(curve, known);
	}
	return known;
}

/**
 * Steady speed of the command from[fromAt] to out[outAt], rad/s at the reference voltage: 0 below the first command
 * (start-up dead zone); above the last the end slope goes on, so that a full-throttle point has a slope (commands in
 * flight never exceed 1). Allocates nothing; in arrays, since a returned number would be boxed in a flight's loop.
 */
export function writeCurveSpeed(
	curve: SpeedCurve,
	from: Float64Array,
	fromAt: number,
	out: Float64Array,
	outAt: number,
): void {
	const { x, y, dydx } = preparedOf(curve);
	const command = from[fromAt]!;
	const last = x.length - 1;
	if (!(command >= x[0]!)) out[outAt] = 0;
	else if (last === 1) out[outAt] = y[0]! + dydx[0]! * (command - x[0]!);
	else if (command >= x[last]!) out[outAt] = y[last]! + dydx[last]! * (command - x[last]!);
	else {
		const i = pieceOf(x, command);
		const h = x[i + 1]! - x[i]!;
		const t = (command - x[i]!) / h;
		const s = 1 - t;
		out[outAt] =
			s * s * ((1 + 2 * t) * y[i]! + h * t * dydx[i]!) +
			t * t * ((3 - 2 * t) * y[i + 1]! - h * s * dydx[i + 1]!);
	}
}

const scratch = new Float64Array(2);

/** `writeCurveSpeed` of one number. @throws RangeError on a curve that `prepareCurve` refuses. */
export function curveSpeed(curve: SpeedCurve, command: number): number {
	scratch[0] = command;
	writeCurveSpeed(curve, scratch, 0, scratch, 1);
	return scratch[1]!;
}

/** d speed / d command; at the last command and beyond the slope from below, 0 in the dead zone. */
export function curveSlope(curve: SpeedCurve, command: number): number {
	const { x, y, dydx } = preparedOf(curve);
	const last = x.length - 1;
	if (!(command >= x[0]!)) return 0;
	if (command >= x[last]!) return dydx[last]!;
	const i = pieceOf(x, command);
	const h = x[i + 1]! - x[i]!;
	const t = (command - x[i]!) / h;
	const s = 1 - t;
	return (6 * t * s * (y[i + 1]! - y[i]!)) / h + s * (1 - 3 * t) * dydx[i]! + t * (3 * t - 2) * dydx[i + 1]!;
}
