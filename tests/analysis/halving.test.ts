import { expect, it } from "vitest";
import { halvingBuysDeg } from "../../src/analysis/halving.ts";

it("gives back half a delay's phase, and of a lag the difference of its arctangents", () => {
	// 10 ms at 10 rad/s are 0.1 rad.
	expect(halvingBuysDeg("delay", 0.01, 10)).toBeCloseTo((0.05 * 180) / Math.PI, 12);
	// A lag whose corner stands at crossover costs 45 degrees, half of it atan(1/2).
	expect(halvingBuysDeg("lag", 0.1, 10)).toBeCloseTo(45 - (Math.atan(0.5) * 180) / Math.PI, 12);
	expect(halvingBuysDeg("delay", 0, 10)).toBe(0);
});
