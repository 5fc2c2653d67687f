import type { StateSpace } from "./state-space.ts";
import { statesInOrder } from "./states-in-order.ts";

/** Writes [Re, Im] of the answer at omega (rad/s) into out, output by output, input by input. */
export type Responder = (omegaRadPerSec: number, out: Float64Array) => void;

/** Weighted sums of states: sum i takes entries from[i] up to from[i + 1] of `sources` (states) and `weights`. */
interface Sums {
	readonly from: Int32Array;
	readonly sources: Int32Array;
	readonly weights: Float64Array;
}

/** States that hang on each other: a body, a single lag or a register of a delay. */
interface Block {
	readonly states: Int32Array;
	/** Their own part of -A, row by row. */
	readonly own: Float64Array;
	/** What each takes from earlier blocks. */
	readonly taken: Sums;
}

/**
 * C (x I - A)^-1 B + D with x = j omega (continuous) or e^{j omega T} (sampled): out holds outputs x inputs pairs.
 * Solved block by block in the order in which states hang on each other: no elimination mixes states that have nothing to do with
 * each other. The work arrays are made once; calls allocate nothing. On a pole the answer is not finite.
 */
export function createResponder(system: StateSpace): Responder {
	const { order: n, inputs: m, outputs: p, timeBase, b, c, d } = system;
	const blocks = blocksOf(system);
	const outputs = sumsOf(c, n, indices(p), () => true);
	const widest = blocks.reduce((most, { states }) => Math.max(most, states.length), 0);
	const re = new Float64Array(widest * widest);
	const im = new Float64Array(widest * widest);
	const yr = new Float64Array(widest * m);
	const yi = new Float64Array(widest * m);
	const xr = new Float64Array(n * m);
	const xi = new Float64Array(n * m);
	return (omega, out) => {
		const sampled = timeBase.kind === "sampled";
		const zr = sampled ? Math.cos(omega * timeBase.periodSec) : 0;
		const zi = sampled ? Math.sin(omega * timeBase.periodSec) : omega;
		for (const block of blocks) {
			const { states } = block;
			const k = states.length;
			drive(block, b, xr, xi, yr, yi, m);
			if (k === 1) divide(zr + block.own[0]!, zi, yr, yi, m);
			else {
				re.set(block.own);
				im.fill(0, 0, k * k);
				for (let i = 0; i < k; i++) {
					re[i * k + i]! += zr;
					im[i * k + i] = zi;
				}
				solveInPlace(re, im, yr, yi, k, m);
			}
			for (let i = 0; i < k; i++) {
				const at = states[i]! * m;
				for (let j = 0; j < m; j++) {
					xr[at + j] = yr[i * m + j]!;
					xi[at + j] = yi[i * m + j]!;
				}
			}
		}
		for (let o = 0; o < p; o++)
			for (let j = 0; j < m; j++) {
				let sumRe = d[o * m + j]!;
				let sumIm = 0;
				for (let e = outputs.from[o]!; e < outputs.from[o + 1]!; e++) {
					const at = outputs.sources[e]! * m + j;
					sumRe += outputs.weights[e]! * xr[at]!;
					sumIm += outputs.weights[e]! * xi[at]!;
				}
				out[2 * (o * m + j)] = sumRe;
				out[2 * (o * m + j) + 1] = sumIm;
			}
	};
}

/** Right-hand sides of a block: its inputs and what earlier blocks give it. */
function drive(
	{ states, taken: { from, sources, weights } }: Block,
	b: Float64Array,
	xr: Float64Array,
	xi: Float64Array,
	yr: Float64Array,
	yi: Float64Array,
	m: number,
): void {
	for (let i = 0; i < states.length; i++)
		for (let j = 0; j < m; j++) {
			let sumRe = b[states[i]! * m + j]!;
			let sumIm = 0;
			for (let e = from[i]!; e < from[i + 1]!; e++) {
				sumRe += weights[e]! * xr[sources[e]! * m + j]!;
				sumIm += weights[e]! * xi[sources[e]! * m + j]!;
			}
			yr[i * m + j] = sumRe;
			yi[i * m + j] = sumIm;
		}
}

/** y over (re + j im). */
function divide(re: number, im: number, yr: Float64Array, yi: Float64Array, m: number): void {
	const size = re * re + im * im;
	for (let j = 0; j < m; j++) {
		const kept = yr[j]!;
		yr[j] = (kept * re + yi[j]! * im) / size;
		yi[j] = (yi[j]! * re - kept * im) / size;
	}
}

function blocksOf({ order: n, outputs: p, a, c }: StateSpace): Block[] {
	const read = indices(n).filter((i) => indices(p).some((o) => c[o * n + i] !== 0));
	return statesInOrder(a, n, read).map((list) => ({
		states: Int32Array.from(list),
		own: Float64Array.from(list.flatMap((row) => list.map((column) => -a[row * n + column]!))),
		taken: sumsOf(a, n, list, (j) => !list.includes(j)),
	}));
}

const indices = (count: number): number[] => Array.from({ length: count }, (_, i) => i);

/** Rows of a matrix n wide as sums over its entries in the wanted columns. */
function sumsOf(
	matrix: Float64Array,
	n: number,
	rows: readonly number[],
	isWanted: (column: number) => boolean,
): Sums {
	const from = [0];
	const sources: number[] = [];
	const weights: number[] = [];
	for (const row of rows) {
		for (let j = 0; j < n; j++) {
			const weight = matrix[row * n + j]!;
			if (weight === 0 || !isWanted(j)) continue;
			sources.push(j);
			weights.push(weight);
		}
		from.push(sources.length);
	}
	return {
		from: Int32Array.from(from),
		sources: Int32Array.from(sources),
		weights: Float64Array.from(weights),
	};
}

/** Complex Gaussian elimination with partial pivoting; the right-hand side becomes the solution. */
function solveInPlace(
	re: Float64Array,
	im: Float64Array,
	xr: Float64Array,
	xi: Float64Array,
	n: number,
	m: number,
): void {
	for (let k = 0; k < n; k++) {
		let p = k;
		let best = -1;
		for (let i = k; i < n; i++) {
			const size = re[i * n + k]! * re[i * n + k]! + im[i * n + k]! * im[i * n + k]!;
			if (size > best) {
				best = size;
				p = i;
			}
		}
		if (p !== k) {
			for (let j = k; j < n; j++) {
				swap(re, k * n + j, p * n + j);
				swap(im, k * n + j, p * n + j);
			}
			for (let j = 0; j < m; j++) {
				swap(xr, k * m + j, p * m + j);
				swap(xi, k * m + j, p * m + j);
			}
		}
		const pr = re[k * n + k]! / best;
		const pi = -im[k * n + k]! / best;
		for (let i = k + 1; i < n; i++) {
			const ar = re[i * n + k]!;
			const ai = im[i * n + k]!;
			if (ar === 0 && ai === 0) continue;
			const fr = ar * pr - ai * pi;
			const fi = ar * pi + ai * pr;
			for (let j = k + 1; j < n; j++) {
				const br = re[k * n + j]!;
				const bi = im[k * n + j]!;
				re[i * n + j]! -= fr * br - fi * bi;
				im[i * n + j]! -= fr * bi + fi * br;
			}
			for (let j = 0; j < m; j++) {
				const br = xr[k * m + j]!;
				const bi = xi[k * m + j]!;
				xr[i * m + j]! -= fr * br - fi * bi;
				xi[i * m + j]! -= fr * bi + fi * br;
			}
		}
		for (let j = 0; j < m; j++) {
			const br = xr[k * m + j]!;
			const bi = xi[k * m + j]!;
			xr[k * m + j] = pr * br - pi * bi;
			xi[k * m + j] = pr * bi + pi * br;
		}
		for (let j = k + 1; j < n; j++) {
			const br = re[k * n + j]!;
			const bi = im[k * n + j]!;
			re[k * n + j] = pr * br - pi * bi;
			im[k * n + j] = pr * bi + pi * br;
		}
	}
	for (let k = n - 1; k >= 0; k--) {
		for (let i = 0; i < k; i++) {
			const ar = re[i * n + k]!;
			const ai = im[i * n + k]!;
			for (let j = 0; j < m; j++) {
				const br = xr[k * m + j]!;
				const bi = xi[k * m + j]!;
				xr[i * m + j]! -= ar * br - ai * bi;
				xi[i * m + j]! -= ar * bi + ai * br;
			}
		}
	}
}

function swap(list: Float64Array, i: number, k: number): void {
	const kept = list[i]!;
	list[i] = list[k]!;
	list[k] = kept;
}
