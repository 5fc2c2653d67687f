import { expect, test } from "vitest";
import { CHARACTERS, limitsOf } from "../../src/tuning/characters.ts";

test("each character is at least as strict as the next in every limit", () => {
	const [gentle, even, lively] = CHARACTERS.map((c) => limitsOf(c));
	for (const [strict, loose] of [
		[gentle!, even!],
		[even!, lively!],
	] as const) {
		for (const name of ["ms", "mt", "noiseRms"] as const) expect(strict[name]).toBeLessThan(loose[name]);
		for (const name of [
			"phaseMarginDeg",
			"gainMarginUpDb",
			"gainMarginDownDb",
			"delayMarginPeriods",
			"crossoverPerIntegral",
		] as const)
			expect(strict[name]).toBeGreaterThan(loose[name]);
	}
});

test("a file's own limit replaces the table's; nonsense is refused by name", () => {
	expect(limitsOf("even", { ms: 1.5 })).toEqual({ ...limitsOf("even"), ms: 1.5 });
	expect(() => limitsOf("even", { msx: 1.5 })).toThrow("limit 'msx': expected one of ms, mt");
	expect(() => limitsOf("even", { ms: 1 })).toThrow("limit ms 1: expected a number above 1");
	expect(() => limitsOf("wild" as never)).toThrow("character 'wild': expected one of gentle, even, lively");
});
