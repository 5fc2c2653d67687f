import { eigenvalues } from "../math/eigenvalues.ts";
import type { SingularPair } from "./disk-margin-scaling.ts";

/** Further starts of the search when the first does not reach the upper bound. */
const STARTS = 12;
const REACHED = 1e-9;

/**
 * Largest spectral radius of U M found over unitary diagonal U: never above mu, so a lower bound whatever the search did.
 * First the phases that carry the singular vectors of the best scaling into each other, which are the answer where
 * that singular value is single; then the power iteration of Packard, Fan and Doyle (1988, from memory) from there and from
 * other starts; then a climb from the best.
 */
export function phaseBound(
	re: Float64Array,
	im: Float64Array,
	n: number,
	pair: SingularPair,
	upper: number,
): number {
	const phases = new Float64Array(n);
	let best = 0;
	const kept = new Float64Array(n);
	const enough = (): boolean => best >= upper * (1 - REACHED);
	const offer = (): void => {
		const value = radius(re, im, n, phases);
		if (value > best) {
			best = value;
			kept.set(phases);
		}
	};
	const b = new Float64Array(2 * n);
	const w = new Float64Array(2 * n);
	for (let i = 0; i < n; i++) phases[i] = turn(pair.left, pair.right, i);
	offer();
	for (let start = 0; start <= STARTS && !enough(); start++) {
		for (let i = 0; i < n; i++) {
			// Golden-angle phases spread the starts evenly.
			const angle = start === 0 ? 0 : 2.399963229728653 * start * (i + 1) * (i + 1);
			rotateInto(pair.right, b, i, angle);
			rotateInto(pair.left, w, i, angle / 2);
		}
		iterate(re, im, n, b, w, phases);
		offer();
	}
	if (!enough()) {
		phases.set(kept);
		best = climb(re, im, n, phases, best);
	}
	return best;
}

/** Phase that turns `from` into `to`, pair i. */
function turn(from: Float64Array, to: Float64Array, i: number): number {
	return Math.atan2(to[2 * i + 1]!, to[2 * i]!) - Math.atan2(from[2 * i + 1]!, from[2 * i]!);
}

function rotateInto(from: Float64Array, to: Float64Array, i: number, angle: number): void {
	const c = Math.cos(angle);
	const s = Math.sin(angle);
	// Away from 0, so that no channel is lost for good.
	const re = from[2 * i]! + 1e-3;
	const im = from[2 * i + 1]!;
	to[2 * i] = c * re - s * im;
	to[2 * i + 1] = s * re + c * im;
}

/** beta a = M b, z = a |w|/|a|, beta w = M^* z, b = w |a|/|w|; the phases turn a into b. */
function iterate(
	re: Float64Array,
	im: Float64Array,
	n: number,
	b: Float64Array,
	w: Float64Array,
	phases: Float64Array,
): void {
	const a = new Float64Array(2 * n);
	const z = new Float64Array(2 * n);
	let last = 0;
	for (let step = 0; step < 300; step++) {
		apply(re, im, n, b, a, false);
		const size = unit(a);
		for (let i = 0; i < n; i++) resize(a, w, z, i);
		apply(re, im, n, z, w, true);
		unit(w);
		for (let i = 0; i < n; i++) resize(w, a, b, i);
		if (Math.abs(size - last) <= 1e-14 * size) break;
		last = size;
	}
	for (let i = 0; i < n; i++) phases[i] = turn(a, b, i);
}

/** to_i = the direction of `along` with the size of `like`. */
function resize(along: Float64Array, like: Float64Array, to: Float64Array, i: number): void {
	const size = Math.hypot(along[2 * i]!, along[2 * i + 1]!);
	const f = size > 0 ? Math.hypot(like[2 * i]!, like[2 * i + 1]!) / size : 0;
	to[2 * i] = along[2 * i]! * f;
	to[2 * i + 1] = along[2 * i + 1]! * f;
}

function apply(
	re: Float64Array,
	im: Float64Array,
	n: number,
	x: Float64Array,
	y: Float64Array,
	conjugate: boolean,
): void {
	for (let i = 0; i < n; i++) {
		let sumRe = 0;
		let sumIm = 0;
		for (let j = 0; j < n; j++) {
			const at = conjugate ? j * n + i : i * n + j;
			const mr = re[at]!;
			const mi = conjugate ? -im[at]! : im[at]!;
			sumRe += mr * x[2 * j]! - mi * x[2 * j + 1]!;
			sumIm += mr * x[2 * j + 1]! + mi * x[2 * j]!;
		}
		y[2 * i] = sumRe;
		y[2 * i + 1] = sumIm;
	}
}

function unit(x: Float64Array): number {
	const size = Math.sqrt(x.reduce((sum, v) => sum + v * v, 0));
	if (size > 0) for (let i = 0; i < x.length; i++) x[i]! /= size;
	return size;
}

/** One phase at a time and all pairs of them, by halving steps. */
function climb(re: Float64Array, im: Float64Array, n: number, phases: Float64Array, from: number): number {
	let value = from;
	const tried = new Float64Array(n);
	for (let reach = 0.4; reach > 1e-9; ) {
		let moved = false;
		for (let i = 1; i < n && !moved; i++)
			for (let j = i; j < n && !moved; j++)
				for (let sign = 0; sign < 4 && !moved; sign++) {
					tried.set(phases);
					tried[i]! += sign & 1 ? reach : -reach;
					if (j > i) tried[j]! += sign & 2 ? reach : -reach;
					const v = radius(re, im, n, tried);
					if (v <= value) continue;
					value = v;
					phases.set(tried);
					moved = true;
				}
		if (!moved) reach /= 2;
	}
	return value;
}

/** Spectral radius of U M through the real matrix [[Re, -Im], [Im, Re]], which has the same eigenvalues and conjugates. */
function radius(re: Float64Array, im: Float64Array, n: number, phases: Float64Array): number {
	const size = 2 * n;
	const real = new Float64Array(size * size);
	for (let i = 0; i < n; i++) {
		const c = Math.cos(phases[i]!);
		const s = Math.sin(phases[i]!);
		for (let j = 0; j < n; j++) {
			const x = c * re[i * n + j]! - s * im[i * n + j]!;
			const y = c * im[i * n + j]! + s * re[i * n + j]!;
			real[i * size + j] = x;
			real[i * size + n + j] = -y;
			real[(n + i) * size + j] = y;
			real[(n + i) * size + n + j] = x;
		}
	}
	const found = eigenvalues(real, size);
	let largest = 0;
	for (let i = 0; i < size; i++) largest = Math.max(largest, Math.hypot(found.re[i]!, found.im[i]!));
	return largest;
}
