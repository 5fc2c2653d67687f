import type { ClosedLoop } from "../analysis/closed-loop.ts";
import { solve } from "../math/matrix.ts";

export interface StepCost {
	/** Integral of |error| to the horizon, closed with |IE - integral so far|; Infinity when it runs away. */
	readonly iae: number;
	/** Largest |error|. */
	readonly peak: number;
	/** Of y beyond 1; set-point steps only. */
	readonly overshoot: number;
}

export interface StepCosts {
	readonly setPoint: StepCost;
	readonly torque: StepCost;
}

const FINE_STRIDES = 8;

/**
 * IAE of set-point minus the true angle (yaw: rate) after a unit set-point step, and of the true angle after a step of outside
 * torque of 1 N m, from rest, by trapezoids. The loop is stepped `stride` ticks at a time through A^stride (exact), but tick by
 * tick for the first `FINE_STRIDES` strides: a loop may answer faster than a stride, as yaw does through its rotors' reaction.
 * IE, the integral of the error to infinity, follows from the closed loop at rest: y = c x, x+ = A x + b gives
 * sum (y_end - y_k) = c (I - A)^-2 b.
 *
 * Only c x is asked for, so that one row serves both steps: q_k = c A^k, y_{k+1} = y_k + q_k b.
 */
export function stepCosts(loop: ClosedLoop, horizonSec: number, stride: number): StepCosts {
	const { order: n, periodSec } = loop;
	const strides = Math.max(1, Math.ceil(horizonSec / (periodSec * stride)));
	const fineStrides = stride > 1 ? Math.min(FINE_STRIDES, strides) : strides;
	const sum = createErrorSums();
	const tick = sparseColumns(loop);
	let q: Float64Array = loop.output.slice();
	let next: Float64Array = new Float64Array(n);
	for (let k = 0; k < fineStrides * stride && sum.highest < 1e3; k++) {
		addTick(sum, periodSec, dot(q, loop.bSetPoint, n), dot(q, loop.bTorque, n));
		timesSparse(q, tick, n, next);
		[q, next] = [next, q];
	}
	if (strides > fineStrides) {
		const columns = groupColumns(loop, stride);
		const out = new Float64Array(n + 2 * GROUP);
		const h = periodSec * stride;
		for (let k = fineStrides; k < strides; k += GROUP) {
			timesColumns(q, columns, n, out);
			for (let g = 0; g < GROUP && k + g < strides && sum.highest < 1e3; g++)
				addTick(sum, h, out[n + 2 * g]!, out[n + 2 * g + 1]!);
			for (let i = 0; i < n; i++) q[i] = out[i]!;
		}
	}
	const whole = errorIntegrals(loop);
	const cost = (r: 0 | 1): StepCost => {
		// Trapezoids halve the first tick.
		const first = r === 0 ? 0.5 : 0;
		const rest = Math.abs((whole[r]! - first) * periodSec - (r === 0 ? sum.setPointIe : sum.torqueIe));
		const iae = sum.highest < 1e3 ? (r === 0 ? sum.setPointIae : sum.torqueIae) + rest : Infinity;
		return {
			iae: Number.isFinite(iae) ? iae : Infinity,
			peak: r === 0 ? sum.setPointPeak : sum.torquePeak,
			overshoot: r === 0 ? Math.max(0, sum.highest - 1) : 0,
		};
	};
	return { setPoint: cost(0), torque: cost(1) };
}

interface ErrorSums {
	/** Outputs now. */
	setPoint: number;
	torque: number;
	highest: number;
	setPointIae: number;
	torqueIae: number;
	/** Integrals of the signed errors. */
	setPointIe: number;
	torqueIe: number;
	setPointPeak: number;
	torquePeak: number;
}

const createErrorSums = (): ErrorSums => ({
	setPoint: 0,
	torque: 0,
	highest: 0,
	setPointIae: 0,
	torqueIae: 0,
	setPointIe: 0,
	torqueIe: 0,
	setPointPeak: 1,
	torquePeak: 0,
});

/** One trapezoid of width h: the outputs move on by what they change over it. */
function addTick(sum: ErrorSums, h: number, setPointBy: number, torqueBy: number): void {
	const lastSetPoint = 1 - sum.setPoint;
	const lastTorque = -sum.torque;
	sum.setPoint += setPointBy;
	sum.torque += torqueBy;
	if (sum.setPoint > sum.highest) sum.highest = sum.setPoint;
	const e = 1 - sum.setPoint;
	const f = -sum.torque;
	if (Math.abs(e) > sum.setPointPeak) sum.setPointPeak = Math.abs(e);
	if (Math.abs(f) > sum.torquePeak) sum.torquePeak = Math.abs(f);
	sum.setPointIae += 0.5 * h * (Math.abs(e) + Math.abs(lastSetPoint));
	sum.torqueIae += 0.5 * h * (Math.abs(f) + Math.abs(lastTorque));
	sum.setPointIe += 0.5 * h * (e + lastSetPoint);
	sum.torqueIe += 0.5 * h * (f + lastTorque);
}

function dot(x: Float64Array, y: Float64Array, n: number): number {
	let sum = 0;
	for (let i = 0; i < n; i++) sum += x[i]! * y[i]!;
	return sum;
}

/** Entries other than 0, column by column: a loop with delays is mostly shift registers. */
interface SparseColumns {
	/** Where each column starts; one more for the end. */
	readonly start: Int32Array;
	readonly row: Int32Array;
	readonly value: Float64Array;
}

function sparseColumns({ a, order: n }: ClosedLoop): SparseColumns {
	let count = 0;
	for (let i = 0; i < n * n; i++) if (a[i] !== 0) count++;
	const start = new Int32Array(n + 1);
	const row = new Int32Array(count);
	const value = new Float64Array(count);
	let at = 0;
	for (let j = 0; j < n; j++) {
		for (let i = 0; i < n; i++) {
			const v = a[i * n + j]!;
			if (v === 0) continue;
			row[at] = i;
			value[at++] = v;
		}
		start[j + 1] = at;
	}
	return { start, row, value };
}

/** out = q A */
function timesSparse(q: Float64Array, { start, row, value }: SparseColumns, n: number, out: Float64Array) {
	let k = 0;
	for (let j = 0; j < n; j++) {
		const end = start[j + 1]!;
		let sum = 0;
		for (; k < end; k++) sum += q[row[k]!]! * value[k]!;
		out[j] = sum;
	}
}

/** out = q M with the columns of M, as many as out has places, one after the other; two at a time: their sums do not wait. */
function timesColumns(q: Float64Array, columns: Float64Array, n: number, out: Float64Array): void {
	let j = 0;
	for (; j + 1 < out.length; j += 2) {
		let even = 0;
		let odd = 0;
		const at = j * n;
		for (let i = 0; i < n; i++) {
			const v = q[i]!;
			even += v * columns[at + i]!;
			odd += v * columns[at + n + i]!;
		}
		out[j] = even;
		out[j + 1] = odd;
	}
	if (j < out.length) out[j] = dot(q, columns.subarray(j * n), n);
}

/** Strides that one row serves before it is moved on. */
const GROUP = 4;

/**
 * With P = A^stride: the columns of P^GROUP, then per stride of a group what the two steps add to the outputs over it, P^g times
 * the sum of A^k b within a stride.
 */
function groupColumns(loop: ClosedLoop, stride: number): Float64Array {
	const n = loop.order;
	const one = power(loop.a, n, stride);
	const all = power(one, n, GROUP);
	const columns = new Float64Array(n * (n + 2 * GROUP));
	for (let i = 0; i < n; i++) for (let j = 0; j < n; j++) columns[j * n + i] = all[i * n + j]!;
	columns.set(heldOver(loop, loop.bSetPoint, stride), n * n);
	columns.set(heldOver(loop, loop.bTorque, stride), n * (n + 1));
	for (let at = n * (n + 2); at < columns.length; at += n)
		for (let i = 0; i < n; i++) {
			let v = 0;
			for (let j = 0; j < n; j++) v += one[i * n + j]! * columns[at - 2 * n + j]!;
			columns[at + i] = v;
		}
	return columns;
}

/** a^exponent: a matrix that is mostly zeros multiplies again and again, a full one is squared. */
function power(a: Float64Array, n: number, exponent: number): Float64Array {
	let entries = 0;
	for (let i = 0; i < n * n; i++) if (a[i] !== 0) entries++;
	const bits = exponent.toString(2);
	const squarings = 2 * bits.length - 2 - bits.replaceAll("1", "").length;
	if (entries * (exponent - 1) < 0.7 * n * n * squarings) {
		let result = a;
		for (let k = 1; k < exponent; k++) result = timesSkipping(a, result, n);
		return result;
	}
	let base = a;
	let result: Float64Array | null = null;
	for (let rest = exponent; ; base = timesSkipping(base, base, n)) {
		if (rest & 1) result = result === null ? base : timesSkipping(result, base, n);
		rest >>= 1;
		if (rest === 0) return result!;
	}
}

/** a b without the zeros of a, two rows of b at a time. */
function timesSkipping(a: Float64Array, b: Float64Array, n: number): Float64Array {
	const out = new Float64Array(n * n);
	for (let i = 0; i < n; i++) {
		const row = i * n;
		for (let k = 0; k < n; k++) {
			const f = a[row + k]!;
			if (f === 0) continue;
			const first = k * n;
			for (k++; k < n && a[row + k] === 0; k++);
			if (k < n) {
				const g = a[row + k]!;
				const second = k * n;
				for (let j = 0; j < n; j++) out[row + j]! += f * b[first + j]! + g * b[second + j]!;
			} else for (let j = 0; j < n; j++) out[row + j]! += f * b[first + j]!;
		}
	}
	return out;
}

/** What a held unit step adds to the states over `ticks` ticks: sum of A^k b. */
function heldOver({ a, order: n }: ClosedLoop, b: Float64Array, ticks: number): Float64Array {
	let x: Float64Array = b.slice();
	let next: Float64Array = new Float64Array(n);
	for (let k = 1; k < ticks; k++) {
		for (let i = 0; i < n; i++) {
			let v = b[i]!;
			for (let j = 0; j < n; j++) v += a[i * n + j]! * x[j]!;
			next[i] = v;
		}
		[x, next] = [next, x];
	}
	return x;
}

/** Far enough from 1 to tell a mode that nothing sees (speed without drag) from the rest, near enough not to matter. */
const ABEL = 1e-9;

/** Sums over all ticks of the error after each unit step; NaN where it does not vanish. */
function errorIntegrals(loop: ClosedLoop): readonly [number, number] {
	const n = loop.order;
	const m = new Float64Array(n * n);
	const b = new Float64Array(2 * n);
	for (let i = 0; i < n; i++) {
		for (let j = 0; j < n; j++) m[i * n + j] = (i === j ? 1 + ABEL : 0) - loop.a[i * n + j]!;
		b[2 * i] = loop.bSetPoint[i]!;
		b[2 * i + 1] = loop.bTorque[i]!;
	}
	try {
		const rest = solve(m, b, n, 2);
		const slope = solve(m, rest, n, 2);
		const read = (x: Float64Array, r: number): number => {
			let y = 0;
			for (let i = 0; i < n; i++) y += loop.output[i]! * x[2 * i + r]!;
			return y;
		};
		// y_k = level - c A^k (I - A)^-1 b: the sum of level - y_k is c (I - A)^-2 b.
		return [
			Math.abs(1 - read(rest, 0)) < 1e-3 ? read(slope, 0) : Number.NaN,
			// A torque held with ki leaves nothing; compare with what it would leave without.
			Math.abs(read(rest, 1)) < 1e-6 * Math.abs(read(slope, 1)) ? read(slope, 1) : Number.NaN,
		];
	} catch {
		return [Number.NaN, Number.NaN];
	}
}
