import { eigenvalues } from "../math/eigenvalues.ts";

/**
 * mu of an n x n complex matrix M (n 1 to 3, row-major) for independent complex scalar factors: 1 over the
 * least size of diag(d1, d2, d3) with det(I - M diag) = 0.
 *
 * upper: least largest singular value of D M D^-1 over positive diagonal D, convex in log D, equal to mu up to
 * three blocks (Packard and Doyle, Automatica 29(1), 1993, from memory). lower: a spectral radius of U M with U a
 * unitary diagonal, so never above mu; only when asked, else 0.
 */
export function structuredSingularValue(
	re: Float64Array,
	im: Float64Array,
	n: 1 | 2 | 3,
	withLower = false,
): { upper: number; lower: number } {
	const bad = [...re, ...im].find((v) => !Number.isFinite(v));
	if (bad !== undefined)
		throw new RangeError(`structuredSingularValue: entry ${bad}, expected finite numbers`);
	if (n === 1) {
		const upper = Math.hypot(re[0]!, im[0]!);
		return { upper, lower: upper };
	}
	return { upper: scaledBound(re, im, n), lower: withLower ? phaseBound(re, im, n) : 0 };
}

/** Log D, beyond Osborne's balance, that still matters for n <= 3. */
const REACH = 6;
const GOLDEN = (3 - Math.sqrt(5)) / 2;

function scaledBound(re: Float64Array, im: Float64Array, n: 2 | 3): number {
	const start = osborne(re, im, n);
	const size = (x: number, y: number): number => largestSingularValue(re, im, n, start, x, y);
	if (n === 2) return golden((x) => size(x, 0));
	return golden((x) => golden((y) => size(x, y)));
}

/** Least value of a convex function within +-REACH: first where it lies by steps, then golden section. */
function golden(f: (x: number) => number): number {
	let a = -REACH;
	let b = REACH;
	let p = a + GOLDEN * (b - a);
	let q = b - GOLDEN * (b - a);
	let fp = f(p);
	let fq = f(q);
	for (let k = 0; k < 52; k++) {
		if (fp <= fq) {
			b = q;
			q = p;
			fq = fp;
			p = a + GOLDEN * (b - a);
			fp = f(p);
		} else {
			a = p;
			p = q;
			fp = fq;
			q = b - GOLDEN * (b - a);
			fq = f(q);
		}
	}
	return Math.min(fp, fq);
}

/** Log of the diagonal scaling that evens the off-diagonal sizes of rows and columns. */
function osborne(re: Float64Array, im: Float64Array, n: number): Float64Array {
	const log = new Float64Array(n);
	for (let sweep = 0; sweep < 20; sweep++) {
		for (let i = 0; i < n; i++) {
			let row = 1e-60;
			let column = 1e-60;
			for (let j = 0; j < n; j++) {
				if (j === i) continue;
				const to = Math.exp(2 * (log[i]! - log[j]!));
				row += (re[i * n + j]! ** 2 + im[i * n + j]! ** 2) * to;
				column += (re[j * n + i]! ** 2 + im[j * n + i]! ** 2) / to;
			}
			log[i]! -= Math.max(-20, Math.min(20, Math.log(row / column) / 4));
		}
	}
	return log;
}

const scaledRe = new Float64Array(9);
const scaledIm = new Float64Array(9);

/** Of D M D^-1 with log D = start + (0, x, y), by the closed form for a Hermitian matrix of order 2 or 3. */
function largestSingularValue(
	re: Float64Array,
	im: Float64Array,
	n: 2 | 3,
	start: Float64Array,
	x: number,
	y: number,
): number {
	const d0 = Math.exp(start[0]!);
	const d1 = Math.exp(start[1]! + x);
	const d2 = n === 3 ? Math.exp(start[2]! + y) : 1;
	const d = (i: number): number => (i === 0 ? d0 : i === 1 ? d1 : d2);
	for (let i = 0; i < n; i++) {
		for (let j = 0; j < n; j++) {
			const f = d(i) / d(j);
			scaledRe[i * n + j] = re[i * n + j]! * f;
			scaledIm[i * n + j] = im[i * n + j]! * f;
		}
	}
	// Gram matrix H = M^* M: real diagonal h00, h11, h22, complex h01, h02, h12.
	const h00 = gram(n, 0, 0, false);
	const h11 = gram(n, 1, 1, false);
	const r01 = gram(n, 0, 1, false);
	const i01 = gram(n, 0, 1, true);
	const s01 = r01 * r01 + i01 * i01;
	if (n === 2) return Math.sqrt((h00 + h11) / 2 + Math.sqrt(((h00 - h11) / 2) ** 2 + s01));
	const h22 = gram(n, 2, 2, false);
	const r02 = gram(n, 0, 2, false);
	const i02 = gram(n, 0, 2, true);
	const r12 = gram(n, 1, 2, false);
	const i12 = gram(n, 1, 2, true);
	const s02 = r02 * r02 + i02 * i02;
	const s12 = r12 * r12 + i12 * i12;
	const mean = (h00 + h11 + h22) / 3;
	const a = h00 - mean;
	const b = h11 - mean;
	const c = h22 - mean;
	const spread = Math.sqrt((a * a + b * b + c * c + 2 * (s01 + s02 + s12)) / 6);
	if (spread === 0) return Math.sqrt(mean);
	// Re(h01 h12 conj(h02))
	const triple = (r01 * r12 - i01 * i12) * r02 + (r01 * i12 + i01 * r12) * i02;
	const det = a * b * c + 2 * triple - a * s12 - b * s02 - c * s01;
	const ratio = Math.max(-1, Math.min(1, det / (2 * spread ** 3)));
	return Math.sqrt(mean + 2 * spread * Math.cos(Math.acos(ratio) / 3));
}

/** Entry (i, j) of M^* M: real or imaginary part. */
function gram(n: number, i: number, j: number, imaginary: boolean): number {
	let sum = 0;
	for (let k = 0; k < n; k++) {
		const ar = scaledRe[k * n + i]!;
		const ai = scaledIm[k * n + i]!;
		const br = scaledRe[k * n + j]!;
		const bi = scaledIm[k * n + j]!;
		sum += imaginary ? ar * bi - ai * br : ar * br + ai * bi;
	}
	return sum;
}

/** Largest spectral radius of diag(1, e^{j p}, e^{j q}) M: a coarse grid of phases, its best five climbed. */
function phaseBound(re: Float64Array, im: Float64Array, n: 2 | 3): number {
	const count = 16;
	const step = (2 * Math.PI) / count;
	const starts: { p: number; q: number; value: number }[] = [];
	for (let i = 0; i < count; i++) {
		for (let j = 0; j < (n === 3 ? count : 1); j++) {
			const p = i * step;
			const q = j * step;
			starts.push({ p, q, value: radius(re, im, n, p, q) });
		}
	}
	starts.sort((a, b) => b.value - a.value);
	let best = 0;
	for (const start of starts.slice(0, 5)) {
		let { p, q, value } = start;
		for (let reach = step / 2; reach > 1e-9; ) {
			let moved = false;
			for (const [dp, dq] of DIRECTIONS) {
				const v = radius(re, im, n, p + dp * reach, q + dq * reach);
				if (v > value) {
					[p, q, value] = [p + dp * reach, q + dq * reach, v];
					moved = true;
					break;
				}
			}
			if (!moved) reach /= 2;
		}
		best = Math.max(best, value);
	}
	return best;
}

const DIRECTIONS: readonly (readonly [number, number])[] = [
	[1, 0],
	[-1, 0],
	[0, 1],
	[0, -1],
	[1, 1],
	[-1, -1],
	[1, -1],
	[-1, 1],
];

/** Spectral radius of U M through the real matrix [[Re, -Im], [Im, Re]], which has the same eigenvalues and conjugates. */
function radius(re: Float64Array, im: Float64Array, n: number, p: number, q: number): number {
	const size = 2 * n;
	const real = new Float64Array(size * size);
	for (let i = 0; i < n; i++) {
		const angle = i === 0 ? 0 : i === 1 ? p : q;
		const c = Math.cos(angle);
		const s = Math.sin(angle);
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
