import { EigenvalueDecomposition, Matrix } from "ml-matrix";
import { hessenbergEigenvalues } from "./hessenberg-qr.ts";

interface Eigenvalues {
	readonly re: Float64Array;
	readonly im: Float64Array;
}

/**
 * Eigenvalues of an n x n row-major matrix, balanced first (Parlett and Reinsch, Numer. Math. 13, 1969).
 * @throws RangeError on a non-finite entry: the QR iteration would never end.
 */
export function eigenvalues(a: Float64Array, n: number): Eigenvalues {
	if (a.length !== n * n) throw new RangeError(`eigenvalues: ${a.length} entries, expected ${n} x ${n}`);
	const bad = a.find((v) => !Number.isFinite(v));
	if (bad !== undefined) throw new RangeError(`eigenvalues: entry ${bad}, expected finite numbers`);
	if (n === 0) return { re: new Float64Array(0), im: new Float64Array(0) };
	const balanced = balance(a, n);
	const fast = hessenbergEigenvalues(balanced.slice(), n);
	if (fast) return fast;
	const matrix = Matrix.from1DArray(n, n, balanced);
	const found = new EigenvalueDecomposition(matrix, { assumeSymmetric: false });
	return {
		re: Float64Array.from(found.realEigenvalues),
		im: Float64Array.from(found.imaginaryEigenvalues),
	};
}

/** Largest modulus of the eigenvalues; 0 for an empty matrix. */
export function spectralRadius(a: Float64Array, n: number): number {
	const { re, im } = eigenvalues(a, n);
	let largest = 0;
	for (let i = 0; i < n; i++) largest = Math.max(largest, Math.hypot(re[i]!, im[i]!));
	return largest;
}

/** A similar matrix whose rows and columns are alike in size; powers of two, so without rounding. */
function balance(a: Float64Array, n: number): Float64Array {
	const m = a.slice();
	for (let again = true; again; ) {
		again = false;
		for (let i = 0; i < n; i++) {
			let row = 0;
			let column = 0;
			for (let j = 0; j < n; j++) {
				if (j === i) continue;
				row += Math.abs(m[i * n + j]!);
				column += Math.abs(m[j * n + i]!);
			}
			if (row === 0 || column === 0) continue;
			const f = 2 ** Math.round(Math.log2(row / column) / 2);
			if (column * f + row / f >= 0.95 * (column + row)) continue;
			again = true;
			for (let j = 0; j < n; j++) m[i * n + j]! /= f;
			for (let j = 0; j < n; j++) m[j * n + i]! *= f;
		}
	}
	return m;
}
