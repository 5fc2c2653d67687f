import type { AxisPlant } from "../analysis/axis-plant.ts";
import { linearTick } from "../control/axis-linear.ts";
import type { GainSet } from "../control/spec.ts";
import { eigenvalues } from "../math/eigenvalues.ts";
import { multiply, solve } from "../math/matrix.ts";

/** The loop of one axis closed through the control law: x+ = A x + b u. */
export interface ClosedLoop {
	readonly order: number;
	readonly periodSec: number;
	readonly a: Float64Array;
	/** Per tick of held set-point (angle; yaw: rate) of 1, and of outside torque of 1 N m. */
	readonly bSetPoint: Float64Array;
	readonly bTorque: Float64Array;
	/** True angle; yaw: true rate. */
	readonly output: Float64Array;
}

/** The plant first, then the control law's own states. */
export function closeLoop(plant: AxisPlant, set: GainSet): ClosedLoop {
	const { order: n, a, bCommand, bTorque, cRate, cAngle, cTrueRate, cTrueAngle } = plant.sampled;
	const law = linearTick(set, plant.axis, plant.periodSec, plant.periodSec);
	const m = law.order;
	const size = n + m;
	const dense = new Float64Array(size * size);
	const setPoint = plant.axis === "yaw" ? 2 : 0;
	const bSetPoint = new Float64Array(size);
	for (let i = 0; i < n; i++) {
		const b = bCommand[i]!;
		for (let j = 0; j < n; j++)
			dense[i * size + j] = a[i * n + j]! + b * (law.d[1]! * cAngle[j]! + law.d[3]! * cRate[j]!);
		for (let j = 0; j < m; j++) dense[i * size + n + j] = b * law.c[j]!;
		bSetPoint[i] = b * law.d[setPoint]!;
	}
	for (let i = 0; i < m; i++) {
		const row = (n + i) * size;
		for (let j = 0; j < n; j++)
			dense[row + j] = law.b[4 * i + 1]! * cAngle[j]! + law.b[4 * i + 3]! * cRate[j]!;
		for (let j = 0; j < m; j++) dense[row + n + j] = law.a[i * m + j]!;
		bSetPoint[n + i] = law.b[4 * i + setPoint]!;
	}
	const torque = new Float64Array(size);
	torque.set(bTorque);
	const output = new Float64Array(size);
	output.set(plant.axis === "yaw" ? cTrueRate : cTrueAngle);
	return { order: size, periodSec: plant.periodSec, a: dense, bSetPoint, bTorque: torque, output };
}

/** Poles of the closed loop outside the unit circle. */
export function polesOutside(loop: ClosedLoop): number {
	const { re, im } = eigenvalues(loop.a, loop.order);
	let count = 0;
	for (let i = 0; i < re.length; i++) if (Math.hypot(re[i]!, im[i]!) > 1 + 1e-8) count++;
	return count;
}

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
 */
export function stepCosts(loop: ClosedLoop, horizonSec: number, stride: number): StepCosts {
	const { order: n, output, periodSec } = loop;
	const coarse = strided(loop, stride);
	const fine = stride > 1 ? strided(loop, 1) : coarse;
	const read = Int32Array.from([...output.keys()].filter((i) => output[i] !== 0));
	const strides = Math.max(1, Math.ceil(horizonSec / (periodSec * stride)));
	const fineTicks = stride > 1 ? stride * Math.min(FINE_STRIDES, strides) : 0;
	const steps = fineTicks + strides - fineTicks / stride;
	// x holds both responses side by side: [set-point, torque] per state.
	let x = new Float64Array(2 * n);
	let next = new Float64Array(2 * n);
	const last = [1, 0];
	const sum = [0, 0];
	const integral = [0, 0];
	const peak = [1, 0];
	let highest = 0;
	for (let k = 0; k < steps; k++) {
		const { a, b } = k < fineTicks ? fine : coarse;
		const h = k < fineTicks ? periodSec : periodSec * stride;
		for (let i = 0; i < n; i++) {
			let v = b[2 * i]!;
			let w = b[2 * i + 1]!;
			const row = i * n;
			for (let j = 0; j < n; j++) {
				const f = a[row + j]!;
				v += f * x[2 * j]!;
				w += f * x[2 * j + 1]!;
			}
			next[2 * i] = v;
			next[2 * i + 1] = w;
		}
		const swap = x;
		x = next;
		next = swap;
		for (let r = 0; r < 2; r++) {
			let y = 0;
			for (let i = 0; i < read.length; i++) y += output[read[i]!]! * x[2 * read[i]! + r]!;
			if (r === 0 && y > highest) highest = y;
			const e = (r === 0 ? 1 : 0) - y;
			const size = Math.abs(e);
			if (size > peak[r]!) peak[r] = size;
			sum[r]! += 0.5 * h * (size + Math.abs(last[r]!));
			integral[r]! += 0.5 * h * (e + last[r]!);
			last[r] = e;
		}
		if (!(highest < 1e3)) break;
	}
	const whole = errorIntegrals(loop);
	const cost = (r: 0 | 1): StepCost => {
		// Trapezoids halve the first tick.
		const first = r === 0 ? 0.5 : 0;
		const rest = Math.abs((whole[r]! - first) * periodSec - integral[r]!);
		const iae = highest < 1e3 ? sum[r]! + rest : Infinity;
		return {
			iae: Number.isFinite(iae) ? iae : Infinity,
			peak: peak[r]!,
			overshoot: r === 0 ? Math.max(0, highest - 1) : 0,
		};
	};
	return { setPoint: cost(0), torque: cost(1) };
}

/** A^stride and what a held unit step adds over as many ticks, inputs side by side. */
function strided(loop: ClosedLoop, stride: number): { a: Float64Array; b: Float64Array } {
	const n = loop.order;
	const m = n + 2;
	let base: Float64Array = new Float64Array(m * m);
	for (let i = 0; i < n; i++) {
		for (let j = 0; j < n; j++) base[i * m + j] = loop.a[i * n + j]!;
		base[i * m + n] = loop.bSetPoint[i]!;
		base[i * m + n + 1] = loop.bTorque[i]!;
	}
	base[n * m + n] = 1;
	base[(n + 1) * m + n + 1] = 1;
	let power: Float64Array | null = null;
	for (let rest = stride; ; base = multiply(base, base, m, m, m)) {
		if (rest & 1) power = power === null ? base : multiply(power, base, m, m, m);
		rest >>= 1;
		if (rest === 0) break;
	}
	const a = new Float64Array(n * n);
	const b = new Float64Array(2 * n);
	for (let i = 0; i < n; i++) {
		for (let j = 0; j < n; j++) a[i * n + j] = power![i * m + j]!;
		b[2 * i] = power![i * m + n]!;
		b[2 * i + 1] = power![i * m + n + 1]!;
	}
	return { a, b };
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
