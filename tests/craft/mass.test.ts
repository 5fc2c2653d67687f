import { expect, test } from "vitest";
import { combineBodies, pointInertia } from "../../src/craft/mass.ts";

test("two point masses on a bar: reduced mass times distance squared about the common centre", () => {
	const point = (massKg: number, x: number) => ({
		massKg,
		centreOfMassM: [x, 0, 0] as const,
		inertiaKgM2: [0, 0, 0, 0, 0, 0, 0, 0, 0] as const,
	});
	const whole = combineBodies([point(2, 0), point(1, 0.3)]);
	expect(whole.massKg).toBe(3);
	expect(whole.centreOfMassM[0]).toBeCloseTo(0.1, 15);
	expect(whole.inertiaKgM2[0]).toBe(0);
	expect(whole.inertiaKgM2[4]).toBeCloseTo((2 / 3) * 0.09, 15);
	expect(whole.inertiaKgM2[8]).toBeCloseTo((2 / 3) * 0.09, 15);
});

test("a uniform rod cut into two: m L^2/12 from halves and the parallel-axis theorem", () => {
	const half = (x: number) => ({
		massKg: 0.25,
		centreOfMassM: [x, 0, 0] as const,
		inertiaKgM2: [0, 0, 0, 0, (0.25 * 0.3 ** 2) / 12, 0, 0, 0, (0.25 * 0.3 ** 2) / 12] as const,
	});
	const rod = combineBodies([half(-0.15), half(0.15)]);
	expect(rod.inertiaKgM2[4]).toBeCloseTo((0.5 * 0.6 ** 2) / 12, 15);
});

test("a point off two axes has a negative product of inertia in the matrix", () => {
	expect(pointInertia(2, [1, 2, 0])).toEqual([8, -4, -0, -4, 2, -0, -0, -0, 10]);
});
