import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { gcd, lcm, sampleAge, worstSensorPhase } from "../../src/analysis/age-pattern.ts";
import { marginsReport } from "../../src/analysis/margins-report.ts";
import { repeating } from "../../src/analysis/repeating-clocks.ts";
import { NOMINAL_POINT } from "../../src/craft/model.ts";
import { unequalCraft } from "../fixtures/clocks.ts";
import { sampleGains } from "../fixtures/craft.ts";

/** Mean age at the tick of samples without latency, their phase at its worst, over all of the clocks' own repetition. */
function meanAgeUs(periodUs: number, tickUs: number): number {
	const phase = worstSensorPhase(periodUs, 0, tickUs);
	const ticks = lcm(periodUs, tickUs) / tickUs;
	let sum = 0;
	for (let k = 0; k < ticks; k++) sum += sampleAge(k * tickUs, periodUs, phase, 0);
	return sum / ticks;
}

describe("clocks that repeat together", () => {
	it("are left as they are where they do within a second", () => {
		expect(repeating([2000, 1000, 2040, 10000])).toEqual({ periods: [2000, 1000, 2040, 10000], text: "" });
	});
	it("keep the mean ages of the true ones, whatever the loop's rate", () => {
		// Loops of 600, 700, 333, 350 and 240 Hz, gyro 1 kHz, frames 400 Hz, attitude 100 Hz; frames of 490 Hz at an odd period.
		for (const asked of [
			[1667, 1000, 2500, 10000],
			[1429, 1000, 2500, 10000],
			[3003, 1000, 2500, 10000],
			[2857, 1000, 2500, 10000],
			[4167, 1000, 2500, 10000],
			[1667, 1667, 1667, 16667],
			[2000, 1000, 2039, 10000],
		]) {
			const { periods, text } = repeating(asked);
			expect(periods.reduce(lcm)).toBeLessThanOrEqual(1_000_000);
			for (const [i, period] of periods.entries()) {
				expect(Math.abs(period / asked[i]! - 1)).toBeLessThan(0.02);
				if (period !== asked[i]) expect(text).toContain(`${asked[i]} us as ${period} us`);
				if (i === 0) continue;
				const wrong = meanAgeUs(period, periods[0]!) - meanAgeUs(asked[i]!, asked[0]!);
				expect(Math.abs(wrong) / asked[0]!).toBeLessThan(0.02);
			}
		}
	});
	it("give a loop of an odd period margins between those of its neighbours that do repeat", () => {
		const free = { phaseUs: "free" } as const;
		const gainMarginDb = (periodUs: number): number => {
			const craft = unequalCraft({
				control: { periodUs, jitterUs: 0, skipChance: 0 },
				gyro: { periodUs: 1000, ...free },
				escFrame: { periodUs: 2500, ...free },
				attitude: { kind: "fused", clock: { periodUs: 10_000, ...free }, latencyUs: 8000 },
			});
			const found = marginsReport(craft, sampleGains(), NOMINAL_POINT);
			if (!found.feasible) throw new Error(found.reason);
			return found.report.axes.roll.rateLoop.gainMarginUpDb.value!;
		};
		for (const [below, odd, above] of [
			[1650, 1667, 1680],
			[1420, 1429, 1440],
			[2950, 3003, 3050],
		] as const) {
			const sides = [gainMarginDb(below), gainMarginDb(above)];
			expect(gainMarginDb(odd)).toBeGreaterThan(Math.min(...sides) - 0.03);
			expect(gainMarginDb(odd)).toBeLessThan(Math.max(...sides) + 0.03);
		}
	});
	it("are found for any clocks", () => {
		const us = (min: number, max: number) => fc.integer({ min, max });
		fc.assert(
			fc.property(us(100, 10_000), us(50, 5000), us(100, 20_000), us(1000, 50_000), (...asked) => {
				const { periods } = repeating(asked);
				expect(periods.reduce(lcm)).toBeLessThanOrEqual(1_000_000);
				for (const [i, period] of periods.entries()) {
					expect(Number.isInteger(period)).toBe(true);
					const locked = gcd(asked[0], asked[i]!);
					const now = gcd(periods[0]!, period);
					// Half of what a period and a common step change: what the mean age may be off.
					const wrong = (Math.abs(period - asked[i]!) + Math.abs(now - locked)) / 2;
					expect(wrong).toBeLessThan(Math.max(0.1 * asked[0], 0.02 * Math.max(...asked)));
				}
			}),
			{ numRuns: 200, seed: 5 },
		);
	});
});
