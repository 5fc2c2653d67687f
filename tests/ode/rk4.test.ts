import { expect, it } from "vitest";
import { createStepper, RK4 } from "../../src/ode/rk4.ts";

const { a, b, c } = RK4 as { a: readonly (readonly number[])[]; b: readonly number[]; c: readonly number[] };
const entry = (i: number, j: number): number => a[i]![j] ?? 0;
const sum = (f: (i: number) => number): number => b.reduce((s, w, i) => s + w * f(i), 0);
const inner = (i: number, f: (j: number) => number): number =>
	c.reduce((s, _, j) => s + entry(i, j) * f(j), 0);

it("has rows that add up to their times", () => {
	a.forEach((row, i) => {
		expect(row.reduce((s, v) => s + v, 0)).toBeCloseTo(c[i]!, 15);
	});
});

// Hairer, Norsett and Wanner, Solving Ordinary Differential Equations I, table II.2.1 (from memory).
it.each([
	["1", sum(() => 1), 1],
	["c", sum((i) => c[i]!), 1 / 2],
	["c^2", sum((i) => c[i]! ** 2), 1 / 3],
	["a c", sum((i) => inner(i, (j) => c[j]!)), 1 / 6],
	["c^3", sum((i) => c[i]! ** 3), 1 / 4],
	["c a c", sum((i) => c[i]! * inner(i, (j) => c[j]!)), 1 / 8],
	["a c^2", sum((i) => inner(i, (j) => c[j]! ** 2)), 1 / 12],
	["a a c", sum((i) => inner(i, (j) => inner(j, (k) => c[k]!))), 1 / 24],
])("meets the order condition of %s", (_, value, expected) => {
	expect(value).toBeCloseTo(expected, 15);
});

it("is of fourth order on an equation that depends on time", () => {
	// x' = -2 t x, x = exp(-t^2)
	const errorWith = (count: number): number => {
		const step = createStepper(1);
		const x = Float64Array.of(1);
		for (let k = 0; k < count; k++)
			step(
				(t, s, out) => {
					out[0] = -2 * t * s[0]!;
				},
				k / count,
				1 / count,
				x,
			);
		return Math.abs(x[0]! - Math.exp(-1));
	};
	expect(Math.log2(errorWith(40) / errorWith(80))).toBeGreaterThan(3.9);
	expect(Math.log2(errorWith(40) / errorWith(80))).toBeLessThan(4.3);
});
