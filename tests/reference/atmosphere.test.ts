import { expect, it } from "vitest";
import { isaDensity } from "../../src/craft/air.ts";

// ISO 2533:1975, density by geopotential altitude, printed digits.
it.each([
	[0, 1.225, 5e-7],
	[500, 1.16727, 5e-6],
	[1000, 1.11164, 5e-6],
	[3000, 0.909122, 1e-6],
])("density at %d m is that of ISO 2533:1975", (altitude, density, tolerance) => {
	expect(Math.abs(isaDensity(altitude) - density)).toBeLessThan(tolerance);
});

it("a hot day is thinner by the ratio of temperatures", () => {
	expect(isaDensity(0, 308.15)).toBeCloseTo((1.225 * 288.15) / 308.15, 6);
	expect(() => isaDensity(20000)).toThrow(/20000 m/);
});
