import { describe, expect, it } from "vitest";
import {
	FLOWN_PASSES,
	gridOf,
	MARGIN_PASSES,
	passBlocks,
} from "../../../../../src/ui/places/gains/gain-plane/passes.ts";
import { bestCell, RESULTS, readCell } from "../../../../../src/ui/places/gains/gain-plane/results.ts";

describe.each([MARGIN_PASSES, FLOWN_PASSES])("passes up to %d", (...passes) => {
	it("work every cell out once, and each pass completes its grid", () => {
		const finest = passes[passes.length - 1]!;
		const seen = new Set<number>();
		passes.forEach((count, k) => {
			for (const { columns, rows } of passBlocks(passes, k))
				for (const j of rows)
					for (const i of columns) {
						expect(seen.has(j * finest + i)).toBe(false);
						seen.add(j * finest + i);
					}
			expect(seen.size).toBe(count * count);
		});
		expect(Math.max(...seen)).toBe(finest * finest - 1);
	});
});

describe("a grid that is drawn", () => {
	const cells = (known: (i: number, j: number) => boolean) =>
		Array.from({ length: 25 }, (_, n) => {
			const [i, j] = [n % 5, Math.floor(n / 5)];
			return known(i, j) ? [1, i + 10 * j] : undefined;
		});
	const read = (numbers: readonly (number | null)[]) => ({
		value: numbers[1] ?? Number.NaN,
		stable: numbers[0] === 1,
	});
	it("takes what is known and fills between coarser neighbours", () => {
		const grid = gridOf(
			cells((i, j) => i % 2 === 0 && j % 2 === 0),
			5,
			5,
			read,
		);
		expect(grid.values[12]).toBe(22);
		expect(grid.values[6]).toBeCloseTo(11, 12);
		expect(grid.values[1]).toBeCloseTo(1, 12);
		expect([...grid.stable].every((each) => each === 1)).toBe(true);
	});
	it("leaves blank what has no known neighbours", () => {
		const grid = gridOf(
			cells((i, j) => i === 0 && j === 0),
			5,
			3,
			read,
		);
		expect(grid.values[0]).toBe(0);
		expect(grid.values[4]).toBeNaN();
		expect(grid.values[8]).toBeNaN();
	});
});

describe("results of cells", () => {
	const radius = RESULTS[0]!;
	const overshoot = RESULTS.find((each) => each.column === "overshootPct")!;
	it("are none where the worst corner is unstable or the flight ended", () => {
		expect(readCell(radius)([0, 0, null, null, null, null, null, null])).toEqual({
			value: Number.NaN,
			stable: false,
		});
		expect(readCell(radius)([1, 0.7, 1, 2, 3, 4, 5, 6])).toEqual({ value: 0.7, stable: true });
	});
	it("have a best end of their own", () => {
		const margins = [undefined, [1, 0.5], [1, 0.8], [0, 0.9]];
		expect(bestCell(margins, radius)).toEqual({ index: 2, value: 0.8 });
		expect(
			bestCell(
				[
					[1, 9],
					[1, 4],
					[1, null],
				],
				overshoot,
			),
		).toEqual({ index: 1, value: 4 });
		expect(bestCell(margins, RESULTS.find((each) => each.better === null)!)).toBeNull();
		expect(bestCell([undefined], radius)).toBeNull();
	});
});
