import { expect, test } from "vitest";
import { leastLinear } from "../../src/tuning/small-program.ts";

interface Row {
	readonly normal: readonly number[];
	readonly bound: number;
}

const least = (c: readonly number[], rows: readonly Row[], start: readonly number[]): number[] => [
	...leastLinear(
		Float64Array.from(c),
		{
			normals: Float64Array.from(rows.flatMap(({ normal }) => normal)),
			bounds: Float64Array.from(rows, ({ bound }) => bound),
		},
		Float64Array.from(start),
	),
];

test("a textbook product mix: 3x + 5y largest under x <= 4, 2y <= 12, 3x + 2y <= 18 is 36 at (2, 6)", () => {
	// Hillier and Lieberman, Introduction to Operations Research, the Wyndor Glass example (from memory).
	const rows = [
		{ normal: [1, 0], bound: 4 },
		{ normal: [0, 2], bound: 12 },
		{ normal: [3, 2], bound: 18 },
		{ normal: [-1, 0], bound: 0 },
		{ normal: [0, -1], bound: 0 },
	];
	const [x, y] = least([-3, -5], rows, [1, 1]);
	expect(x!).toBeCloseTo(2, 5);
	expect(y!).toBeCloseTo(6, 5);
});

test("many rows through one vertex, repeated rows and a thin wedge do not mislead it", () => {
	const rows = [];
	for (let k = 0; k < 40; k++) {
		const a = (Math.PI * (0.5 + (k % 20))) / 40;
		rows.push({ normal: [Math.cos(a), Math.sin(a), 0.01 * k], bound: 0 });
	}
	for (let i = 0; i < 3; i++)
		for (const side of [-1, 1]) rows.push({ normal: [0, 1, 2].map((j) => (i === j ? side : 0)), bound: 1 });
	const [x, y, z] = least([-1, -1, 0], rows, [-0.5, -0.5, -0.5]);
	for (const { normal, bound } of rows)
		expect(normal[0]! * x! + normal[1]! * y! + normal[2]! * z!).toBeLessThanOrEqual(bound);
	expect(Number.isFinite(x! + y! + z!)).toBe(true);
});
