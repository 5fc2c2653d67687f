import { create, expmDependencies } from "mathjs";
import { describe, expect, it } from "vitest";
import { eigenvalues, spectralRadius } from "../../src/math/eigenvalues.ts";
import { expm } from "../../src/math/expm.ts";
import { identity, multiply, solve } from "../../src/math/matrix.ts";
import { createRandom } from "../../src/math/random.ts";

const { expm: outside } = create(expmDependencies!);

describe("expm", () => {
	it("turns a skew matrix into a rotation (closed form)", () => {
		for (const angle of [0.1, 3, 40]) {
			const e = expm(Float64Array.of(0, -angle, angle, 0), 2);
			[Math.cos(angle), -Math.sin(angle), Math.sin(angle), Math.cos(angle)].forEach((v, i) => {
				expect(Math.abs(e[i]! - v)).toBeLessThan(1e-13);
			});
		}
	});
	it("ends after three terms for a nilpotent matrix (closed form)", () => {
		const e = expm(Float64Array.of(0, 2, 3, 0, 0, 4, 0, 0, 0), 3);
		expect(Array.from(e, (v) => Math.round(v * 1e12) / 1e12)).toEqual([1, 2, 7, 0, 1, 4, 0, 0, 1]);
	});
	it("agrees with mathjs", () => {
		const random = createRandom(3);
		for (let n = 1; n <= 7; n++) {
			const a = Float64Array.from({ length: n * n }, () => random.normal());
			const rows = Array.from({ length: n }, (_, i) => Array.from(a.slice(i * n, (i + 1) * n)));
			const theirs = (
				outside(rows as unknown as Parameters<typeof outside>[0]) as unknown as { toArray(): number[][] }
			)
				.toArray()
				.flat();
			const size = Math.max(...theirs.map(Math.abs));
			expm(a, n).forEach((v, i) => {
				expect(Math.abs(v - theirs[i]!)).toBeLessThan(1e-11 * size);
			});
		}
	});
	it("refuses what is not finite", () => {
		expect(() => expm(Float64Array.of(Number.NaN), 1)).toThrow(/finite/);
	});
});

describe("eigenvalues", () => {
	it("keeps small ones of a badly scaled matrix (closed form)", () => {
		const found = eigenvalues(Float64Array.of(1, 1e8, 1e-8, 2), 2);
		const sorted = Array.from(found.re).sort((a, b) => a - b);
		expect(sorted[0]).toBeCloseTo((3 - Math.sqrt(5)) / 2, 13);
		expect(sorted[1]).toBeCloseTo((3 + Math.sqrt(5)) / 2, 13);
		expect(spectralRadius(Float64Array.of(0.6, -0.8, 0.8, 0.6), 2)).toBeCloseTo(1, 14);
	});
	it("refuses NaN instead of running on", () => {
		expect(() => eigenvalues(Float64Array.of(1, Number.NaN, 0, 1), 2)).toThrow(/NaN/);
	});
});

describe("solve", () => {
	it("undoes multiply and refuses a singular matrix", () => {
		const random = createRandom(5);
		const a = Float64Array.from({ length: 25 }, () => random.normal());
		const inverse = solve(a, identity(5), 5, 5);
		multiply(a, inverse, 5, 5, 5).forEach((v, i) => {
			expect(Math.abs(v - identity(5)[i]!)).toBeLessThan(1e-12);
		});
		expect(() => solve(Float64Array.of(1, 2, 2, 4), Float64Array.of(1, 1), 2, 1)).toThrow(/regular/);
	});
});
