import { describe, expect, it } from "vitest";
import { loopRadius } from "../../src/analysis/loop-blocks.ts";

const of = (rows: readonly (readonly number[])[]): number =>
	loopRadius(Float64Array.from(rows.flat()), rows.length);

describe("radius over loops alone", () => {
	it("leaves out an integrator that nothing reads, and one that nothing drives", () => {
		// Second state sums the first; third feeds the first and keeps its value.
		expect(
			of([
				[0.5, 0, 1],
				[1, 1, 0],
				[0, 0, 1],
			]),
		).toBeCloseTo(0.5, 12);
	});

	it("keeps an integrator inside a loop, and one that is not quite one", () => {
		// x+ = x + y, y+ = -0.5 x: eigenvalues of z^2 - z + 0.5, size sqrt(0.5).
		expect(
			of([
				[1, 1],
				[-0.5, 0],
			]),
		).toBeCloseTo(Math.SQRT1_2, 12);
		expect(of([[1.001]])).toBeCloseTo(1.001, 12);
	});

	it("loops that stand apart: the larger one, whatever links them one way", () => {
		expect(
			of([
				[0, 0.9, 0, 0],
				[0.9, 0, 0, 0],
				[5, 0, 0, 1.2],
				[0, 0, 1.2, 0],
			]),
		).toBeCloseTo(1.2, 12);
	});
});
