import { describe, expect, it } from "vitest";
import { STEP, timeline, underWay } from "../../src/analysis/timeline.ts";
import { timingChain } from "../../src/analysis/timing-chain.ts";
import { unequalCraft } from "../fixtures/clocks.ts";
import { sampleCraft } from "../fixtures/craft.ts";

describe("timeline", () => {
	it("equal clocks: one of each, in the stated order at one instant", () => {
		const steps = timeline(timingChain(sampleCraft().timing), { applyUs: [0], angleEarlierUs: [0] });
		expect(steps.map((s) => s.kind)).toEqual([
			STEP.sampleRate,
			STEP.sampleAngle,
			STEP.rateArrives,
			STEP.angleArrives,
			STEP.tick,
			STEP.publish,
			STEP.latch,
			STEP.apply,
		]);
		expect(steps.every((s) => s.atUs === 0)).toBe(true);
		expect(steps.find((s) => s.kind === STEP.tick)!.spacingUs).toBe(2000);
	});

	it("unequal clocks: as many of each as fit the hyperperiod, never backwards", () => {
		const steps = timeline(timingChain(unequalCraft().timing), { applyUs: [1644], angleEarlierUs: [0] });
		const count = (kind: number): number => steps.filter((s) => s.kind === kind).length;
		expect([STEP.tick, STEP.latch, STEP.apply, STEP.sampleAngle].map(count)).toEqual([255, 250, 250, 51]);
		for (let i = 1; i < steps.length; i++)
			expect(steps[i]!.atUs).toBeGreaterThanOrEqual(steps[i - 1]!.atUs - 1e-6);
	});

	it("a gyro slower than the loop brings a new sample to every other tick", () => {
		const craft = unequalCraft({
			gyro: { periodUs: 4000, phaseUs: 0 },
			escFrame: { periodUs: 2000, phaseUs: 0 },
		});
		const ticks = timeline(timingChain(craft.timing), { applyUs: [0], angleEarlierUs: [0] }).filter(
			(s) => s.kind === STEP.tick,
		);
		expect(ticks.slice(0, 4).map((s) => s.spacingUs)).toEqual([4000, 0, 4000, 0]);
	});

	it("what is under way just before 0", () => {
		expect(underWay(2000, 0, 0)).toBe(0);
		expect(underWay(2000, 0, 1644)).toBe(0);
		// Begun at -2000, ends at 0 or later: under way; what ends at 0 arrives after this instant.
		expect(underWay(2000, 0, 2000)).toBe(1);
		expect(underWay(2000, 0, 4500)).toBe(2);
		expect(underWay(2000, 500, 1600)).toBe(1);
	});
});
