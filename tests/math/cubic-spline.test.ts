import { describe, expect, it } from "vitest";
import { createCubicSpline, SPLINE } from "../../src/math/cubic-spline.ts";

const at = (spline: ReturnType<typeof createCubicSpline>, t: number): number[] => {
	const work = new Float64Array(SPLINE.length);
	work[SPLINE.time] = t;
	spline.evaluate(work);
	return [work[SPLINE.value]!, work[SPLINE.slope]!, work[SPLINE.bend]!];
};

describe("a cubic spline", () => {
	it("is the cubic itself where the points lie on one", () => {
		const f = (t: number): number => 1 - 2 * t + 0.5 * t ** 2 + 0.25 * t ** 3;
		const slope = (t: number): number => -2 + t + 0.75 * t ** 2;
		const spline = createCubicSpline(
			[0, 0.3, 1, 1.2, 2.5].map((t) => [t, f(t)]),
			slope(0),
			slope(2.5),
		);
		for (const t of [0, 0.1, 0.3, 0.7, 1.1, 1.9, 2.5]) {
			const [v, s, b] = at(spline, t);
			expect(v).toBeCloseTo(f(t), 12);
			expect(s).toBeCloseTo(slope(t), 12);
			expect(b).toBeCloseTo(1 + 1.5 * t, 11);
		}
	});

	it("passes through its points with slope and second derivative continuous, and stands still outside", () => {
		const points = [
			[0, 0],
			[0.2, 0.3],
			[0.35, 1.1],
			[0.8, 0.9],
		] as const;
		const spline = createCubicSpline(points, 0, 0);
		for (const [t, v] of points) expect(at(spline, t)[0]).toBeCloseTo(v, 13);
		for (const [t] of points.slice(1, -1))
			for (const k of [1, 2]) expect(at(spline, t - 1e-10)[k]).toBeCloseTo(at(spline, t + 1e-10)[k]!, 5);
		expect(at(spline, 0)[1]).toBe(0);
		expect(at(spline, 9)[0]).toBeCloseTo(0.9, 13);
		expect(at(spline, 9)[1]).toBeCloseTo(0, 13);
	});

	it("of two points is Hermite's cubic", () => {
		const [v, s] = at(
			createCubicSpline(
				[
					[0, 0],
					[2, 1],
				],
				0,
				0,
			),
			1,
		);
		expect(v).toBeCloseTo(0.5, 14);
		expect(s).toBeCloseTo(0.75, 14);
	});

	it("refuses times that do not grow", () => {
		expect(() => createCubicSpline([[0, 1]], 0, 0)).toThrow(/1 points, expected 2 or more/);
		expect(() =>
			createCubicSpline(
				[
					[0, 1],
					[0, 2],
				],
				0,
				0,
			),
		).toThrow(/time 0 after 0/);
	});
});
