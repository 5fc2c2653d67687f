import { largestHermitian } from "../math/hermitian.ts";

/** Most channels opened at once. */
export const MOST_CHANNELS = 6;
const SPACE = MOST_CHANNELS * MOST_CHANNELS;

/** Log D, beyond Osborne's balance, that is looked at where zeros in the matrix set no bound of their own. */
const REACH = 12;

export interface ScalingSearch {
	/** Relative error at which the search may end. */
	readonly tolerance: number;
	/** Ends as soon as the bound is known to be below this. */
	readonly unlessAbove: number;
}

export interface ScaledBound {
	/** Largest singular value of D M D^-1 at the best D found. */
	readonly value: number;
	/** What no D is below. */
	readonly least: number;
}

/** What `balancedBound` left for `scaledBound`: log D that evens rows and columns. */
const balance = new Float64Array(MOST_CHANNELS);
const scaledRe = new Float64Array(SPACE);
const scaledIm = new Float64Array(SPACE);
const gramRe = new Float64Array(SPACE);
const gramIm = new Float64Array(SPACE);
const workRe = new Float64Array(SPACE);
const workIm = new Float64Array(SPACE);
const right = new Float64Array(2 * MOST_CHANNELS);
const left = new Float64Array(2 * MOST_CHANNELS);
const slope = new Float64Array(MOST_CHANNELS);
const bestLog = new Float64Array(MOST_CHANNELS);

/** Of the D last found best: unit singular vectors of D M D^-1 as [Re, Im] pairs, M D^-1 right = sigma D^-1 left. */
export interface SingularPair {
	readonly left: Float64Array;
	readonly right: Float64Array;
}

/** Largest singular value of D M D^-1 with the D that evens the off-diagonal sizes of rows and columns (Osborne, J. ACM 7, 1960). */
export function balancedBound(re: Float64Array, im: Float64Array, n: number): number {
	if (n === 1) return Math.hypot(re[0]!, im[0]!);
	if (n === 2) return twoByTwo(re, im);
	osborne(re, im, n);
	return Math.exp(logSize(re, im, n, balance));
}

/** Exact for two channels: balancing makes the sum of squares least, and with it both singular values, as their product stays. */
function twoByTwo(re: Float64Array, im: Float64Array): number {
	const cross = Math.hypot(re[1]!, im[1]!) * Math.hypot(re[2]!, im[2]!);
	const squares = re[0]! ** 2 + im[0]! ** 2 + re[3]! ** 2 + im[3]! ** 2 + 2 * cross;
	const dr = re[0]! * re[3]! - im[0]! * im[3]! - re[1]! * re[2]! + im[1]! * im[2]!;
	const di = re[0]! * im[3]! + im[0]! * re[3]! - re[1]! * im[2]! - im[1]! * re[2]!;
	return Math.sqrt((squares + Math.sqrt(Math.max(0, squares * squares - 4 * (dr * dr + di * di)))) / 2);
}

/**
 * Least largest singular value of D M D^-1 over positive diagonal D. Its log is convex in log D (Sezginer and Overton, IEEE
 * Trans. Automatic Control 35(12), 1990, from memory), with slope |left_i|^2 - |right_i|^2, but not smooth where singular
 * values meet, so an ellipsoid is cut (Bland, Goldfarb and Todd, Operations Research 29(6), 1981, from memory): it starts
 * about all D that could be better than the balance, and its size bounds what is left to gain.
 */
export function scaledBound(
	re: Float64Array,
	im: Float64Array,
	n: number,
	search: ScalingSearch,
): ScaledBound {
	const first = balancedBound(re, im, n);
	if (n === 2) osborne(re, im, n);
	bestLog.set(balance);
	if (n <= 2 || first === 0 || first < search.unlessAbove) return { value: first, least: n <= 2 ? first : 0 };
	return cutEllipsoid(re, im, n, Math.log(first), search);
}

/** Singular vectors at the D that `scaledBound` ended with, two channels or more. */
export function singularPair(re: Float64Array, im: Float64Array, n: number): SingularPair {
	logSize(re, im, n, bestLog);
	return { left: left.slice(0, 2 * n), right: right.slice(0, 2 * n) };
}

const centre = new Float64Array(MOST_CHANNELS);
const shape = new Float64Array(SPACE);
const cut = new Float64Array(MOST_CHANNELS);
const trial = new Float64Array(MOST_CHANNELS);

function cutEllipsoid(
	re: Float64Array,
	im: Float64Array,
	n: number,
	first: number,
	{ tolerance, unlessAbove }: ScalingSearch,
): ScaledBound {
	const k = n - 1;
	const floor = unlessAbove > 0 ? Math.log(unlessAbove) : Number.NEGATIVE_INFINITY;
	let best = first;
	let least = Number.NEGATIVE_INFINITY;
	startingEllipsoid(re, im, n, first);
	for (let step = 0; step < 4000; step++) {
		trial[0] = balance[0]!;
		for (let i = 0; i < k; i++) trial[i + 1] = balance[i + 1]! + centre[i]!;
		const f = logSize(re, im, n, trial);
		if (f < best) {
			best = f;
			bestLog.set(trial);
		}
		let reach = 0;
		for (let i = 0; i < k; i++) {
			let sum = 0;
			for (let j = 0; j < k; j++) sum += shape[i * k + j]! * slope[j + 1]!;
			cut[i] = sum;
			reach += sum * slope[i + 1]!;
		}
		reach = Math.sqrt(Math.max(0, reach));
		least = Math.max(least, Math.min(best, f - reach));
		if (best - least <= tolerance || best < floor || reach === 0) break;
		const depth = Math.min((f - best) / reach, 1 - 1e-12);
		const move = (1 + k * depth) / ((k + 1) * reach);
		for (let i = 0; i < k; i++) centre[i]! -= move * cut[i]!;
		const grow = ((k * k) / (k * k - 1)) * (1 - depth * depth);
		const fold = (2 * (1 + k * depth)) / ((k + 1) * (1 + depth) * reach * reach);
		for (let i = 0; i < k; i++)
			for (let j = 0; j <= i; j++) {
				const v = grow * (shape[i * k + j]! - fold * cut[i]! * cut[j]!);
				shape[i * k + j] = v;
				shape[j * k + i] = v;
			}
	}
	return { value: Math.exp(best), least: Math.exp(least) };
}

const reachBy = new Float64Array(SPACE);

/**
 * D no worse than the balance has |m_ij| d_i/d_j <= its bound for every entry, so each difference of log D has a limit; the
 * shortest chains of them give a box, and the ellipsoid goes through its corners.
 */
function startingEllipsoid(re: Float64Array, im: Float64Array, n: number, first: number): void {
	for (let i = 0; i < n; i++)
		for (let j = 0; j < n; j++) {
			const size = Math.hypot(re[i * n + j]!, im[i * n + j]!);
			const room = first - Math.log(size) - balance[i]! + balance[j]!;
			reachBy[i * n + j] = i === j ? 0 : Math.min(REACH, room);
		}
	for (let via = 0; via < n; via++)
		for (let i = 0; i < n; i++)
			for (let j = 0; j < n; j++) {
				const round = reachBy[i * n + via]! + reachBy[via * n + j]!;
				if (round < reachBy[i * n + j]!) reachBy[i * n + j] = round;
			}
	const k = n - 1;
	shape.fill(0);
	for (let i = 0; i < k; i++) {
		const high = reachBy[(i + 1) * n]!;
		const low = -reachBy[i + 1]!;
		centre[i] = (high + low) / 2;
		const half = Math.max((high - low) / 2, 1e-9);
		shape[i * k + i] = k * half * half;
	}
}

/** Log D into `balance`. */
function osborne(re: Float64Array, im: Float64Array, n: number): void {
	balance.fill(0);
	for (let i = 0; i < n * n; i++) gramRe[i] = re[i]! * re[i]! + im[i]! * im[i]!;
	for (let sweep = 0; sweep < 12; sweep++) {
		let moved = 0;
		for (let i = 0; i < n; i++) {
			let row = 1e-120;
			let column = 1e-120;
			for (let j = 0; j < n; j++) {
				if (j === i) continue;
				row += gramRe[i * n + j]!;
				column += gramRe[j * n + i]!;
			}
			const log = Math.max(-20, Math.min(20, Math.log(column / row) / 4));
			moved = Math.max(moved, Math.abs(log));
			balance[i]! += log;
			const up = Math.exp(2 * log);
			for (let j = 0; j < n; j++) {
				if (j === i) continue;
				gramRe[i * n + j]! *= up;
				gramRe[j * n + i]! /= up;
			}
		}
		if (moved < 1e-3) return;
	}
}

/** Log of the largest singular value of D M D^-1; its vectors go to `left` and `right`, its slope over log D to `slope`. */
function logSize(re: Float64Array, im: Float64Array, n: number, log: Float64Array): number {
	for (let i = 0; i < n; i++)
		for (let j = 0; j < n; j++) {
			const f = Math.exp(log[i]! - log[j]!);
			scaledRe[i * n + j] = re[i * n + j]! * f;
			scaledIm[i * n + j] = im[i * n + j]! * f;
		}
	for (let i = 0; i < n; i++)
		for (let j = i; j < n; j++) {
			let sumRe = 0;
			let sumIm = 0;
			for (let k = 0; k < n; k++) {
				const ar = scaledRe[k * n + i]!;
				const ai = scaledIm[k * n + i]!;
				const br = scaledRe[k * n + j]!;
				const bi = scaledIm[k * n + j]!;
				sumRe += ar * br + ai * bi;
				sumIm += ar * bi - ai * br;
			}
			gramRe[i * n + j] = sumRe;
			gramIm[i * n + j] = sumIm;
			gramRe[j * n + i] = sumRe;
			gramIm[j * n + i] = -sumIm;
		}
	const square = largestHermitian(gramRe, gramIm, n, right, workRe, workIm);
	const size = Math.sqrt(square);
	for (let i = 0; i < n; i++) {
		let sumRe = 0;
		let sumIm = 0;
		for (let j = 0; j < n; j++) {
			const ar = scaledRe[i * n + j]!;
			const ai = scaledIm[i * n + j]!;
			sumRe += ar * right[2 * j]! - ai * right[2 * j + 1]!;
			sumIm += ar * right[2 * j + 1]! + ai * right[2 * j]!;
		}
		left[2 * i] = sumRe / size;
		left[2 * i + 1] = sumIm / size;
		slope[i] = left[2 * i]! ** 2 + left[2 * i + 1]! ** 2 - right[2 * i]! ** 2 - right[2 * i + 1]! ** 2;
	}
	return Math.log(size);
}
