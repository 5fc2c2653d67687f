import { EigenvalueDecomposition, Matrix } from "ml-matrix";
import { describe, expect, it } from "vitest";
import { hessenbergEigenvalues } from "../../src/math/hessenberg-qr.ts";

/** Numbers in -1 .. 1 that repeat from run to run (a linear congruence). */
function numbers(seed: number): () => number {
	let x = seed;
	return () => {
		x = (1103515245 * x + 12345) % 2147483648;
		return x / 1073741824 - 1;
	};
}

type Pair = readonly [number, number];

/** Largest distance when each eigenvalue is matched with the nearest one left of the other list. */
function apart(a: readonly Pair[], b: readonly Pair[]): number {
	const left = [...b];
	let largest = 0;
	for (const [re, im] of a) {
		const distances = left.map(([r, i]) => Math.hypot(r - re, i - im));
		const least = Math.min(...distances);
		left.splice(distances.indexOf(least), 1);
		largest = Math.max(largest, least);
	}
	return largest;
}

function values(a: Float64Array, n: number): Pair[] {
	const found = hessenbergEigenvalues(a.slice(), n);
	if (!found) throw new Error("not found");
	return Array.from(found.re, (re, i) => [re, found.im[i]!] as const);
}

describe("eigenvalues by elimination and double-shift QR", () => {
	it.each([1, 2, 3, 5, 12, 40, 90])("%i squared, random: as ml-matrix finds them", (n) => {
		const next = numbers(n);
		const a = Float64Array.from({ length: n * n }, next);
		const other = new EigenvalueDecomposition(Matrix.from1DArray(n, n, a), { assumeSymmetric: false });
		const theirs = other.realEigenvalues.map((re, i) => [re, other.imaginaryEigenvalues[i]!] as const);
		expect(apart(values(a, n), theirs)).toBeLessThan(1e-10 * n);
	});

	it("roots of unity: the companion matrix of z^8 = 1, where shifts of the plain kind never converge", () => {
		const n = 8;
		const a = new Float64Array(n * n);
		for (let i = 0; i < n; i++) a[i * n + ((i + n - 1) % n)] = 1;
		const roots = Array.from(
			{ length: n },
			(_, k) => [Math.cos((2 * Math.PI * k) / n), Math.sin((2 * Math.PI * k) / n)] as const,
		);
		expect(apart(values(a, n), roots)).toBeLessThan(1e-13);
	});

	it("a chain of delays closed weakly: z^30 = 1e-6, and open: all 0", () => {
		const n = 30;
		const a = new Float64Array(n * n);
		for (let i = 1; i < n; i++) a[i * n + i - 1] = 1;
		expect(Math.max(...values(a, n).map(([re, im]) => Math.hypot(re, im)))).toBe(0);
		a[n - 1] = 1e-6;
		for (const [re, im] of values(a, n)) expect(Math.hypot(re, im)).toBeCloseTo(1e-6 ** (1 / n), 10);
	});

	it("triangular: its diagonal", () => {
		const a = Float64Array.from([3, 1, 4, 0, -1, 5, 0, 0, 2]);
		expect(
			apart(values(a, 3), [
				[3, 0],
				[-1, 0],
				[2, 0],
			]),
		).toBeLessThan(1e-14);
	});
});
