import { expect, it } from "vitest";
import * as polynomial from "../../src/math/polynomial.ts";
import { findMinimum, findRoot } from "../../src/math/search.ts";

it("roots undo fromRoots, zeros at the origin exactly", () => {
	const list = polynomial.fromRoots([
		{ re: -1, im: 2 },
		{ re: -1, im: -2 },
		{ re: 3, im: 0 },
	]);
	expect(list).toEqual([1, -1, -1, -15]);
	const found = polynomial.roots([0, ...list, 0]).sort((a, b) => a.re - b.re || a.im - b.im);
	[
		[-1, -2],
		[-1, 2],
		[0, 0],
		[3, 0],
	].forEach(([re, im], i) => {
		expect(Math.hypot(found[i]!.re - re!, found[i]!.im - im!)).toBeLessThan(1e-13);
	});
});

it("add, multiply and evaluate agree", () => {
	expect(polynomial.add([1, 0, 0], [2, 3])).toEqual([1, 2, 3]);
	expect(polynomial.multiply([1, 2], [1, 3])).toEqual([1, 5, 6]);
	const out = new Float64Array(2);
	polynomial.evaluate([1, 0, 1], 0, 2, out);
	expect(Array.from(out)).toEqual([-3, 0]);
});

it("findRoot and findMinimum meet closed forms", () => {
	// A few units of rounding of x^2 over the slope: the method stops there.
	expect(findRoot((x) => x * x - 2, 0, 5)).toBeCloseTo(Math.SQRT2, 14);
	expect(findRoot((x) => Math.expm1(40 * (x - 0.3)), 0, 1)).toBeCloseTo(0.3, 14);
	expect(() => findRoot((x) => x * x + 1, -1, 1)).toThrow(/sign change/);
	expect(findMinimum((x) => (x - 1.5) ** 2, 0, 4)[0]).toBeCloseTo(1.5, 7);
});
