import { describe, expect, it } from "vitest";
import { createFlows } from "../../src/analysis/lifted-flows.ts";

describe("the plant's answers over a time", () => {
	/** A lag of 20 ms that turns a mass: x1' = -50 x1 + 50 u, x2' = 300 x1. */
	const flows = createFlows({
		order: 2,
		inputs: 1,
		a: Float64Array.from([-50, 0, 300, 0]),
		b: Float64Array.from([50, 0]),
		rates: [],
		angles: [],
	});

	it.each([
		["by the series", 2000],
		["by the block exponential", 40_000],
	])("a step through a lag and an integrator, %s: the closed form", (_, us) => {
		const t = us * 1e-6;
		const e = Math.exp(-50 * t);
		const push = flows.push(0, us);
		expect(push[0]! / (1 - e)).toBeCloseTo(1, 12);
		expect(push[1]! / (300 * (t - (1 - e) / 50))).toBeCloseTo(1, 11);
		const phi = flows.transition(us);
		expect(phi[0]! / e).toBeCloseTo(1, 12);
		expect(phi[2]! / (6 * (1 - e))).toBeCloseTo(1, 12);
		expect(flows.push(0, us)).toBe(push);
	});
});
