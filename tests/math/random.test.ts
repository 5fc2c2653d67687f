import { expect, test } from "vitest";
import { createRandom } from "../../src/math/random.ts";

test("the same seed gives the same numbers; another seed or stream gives others", () => {
	const draw = (seed: number, stream?: number) => {
		const random = createRandom(seed, stream);
		return [random.uniform(), random.normal(), random.uniform()];
	};
	expect(draw(7)).toEqual(draw(7));
	expect(draw(7)).not.toEqual(draw(8));
	expect(draw(7, 0)).not.toEqual(draw(7, 1));
});

test("moments of the uniform and the normal, within four standard errors of 200 000 draws", () => {
	const random = createRandom(42);
	const n = 200_000;
	let [sumU, sumN, sumN2, sumN4] = [0, 0, 0, 0];
	for (let i = 0; i < n; i++) {
		sumU += random.uniform();
		const x = random.normal();
		sumN += x;
		sumN2 += x * x;
		sumN4 += x ** 4;
	}
	expect(Math.abs(sumU / n - 0.5)).toBeLessThan(4 / Math.sqrt(12 * n));
	expect(Math.abs(sumN / n)).toBeLessThan(4 / Math.sqrt(n));
	expect(Math.abs(sumN2 / n - 1)).toBeLessThan(4 * Math.sqrt(2 / n));
	expect(Math.abs(sumN4 / n - 3)).toBeLessThan(4 * Math.sqrt(96 / n));
});

test("uniform draws fill ten bins evenly (chi-square, 9 degrees of freedom, 99.9 % point 27.88)", () => {
	const random = createRandom(3, 5);
	const bins = new Array<number>(10).fill(0);
	for (let i = 0; i < 100_000; i++) bins[Math.floor(random.uniform() * 10)]!++;
	const chi2 = bins.reduce((sum, count) => sum + (count - 10_000) ** 2 / 10_000, 0);
	expect(chi2).toBeLessThan(27.88);
});
