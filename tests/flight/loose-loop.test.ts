import { describe, expect, it } from "vitest";
import { type Craft, NOMINAL_POINT } from "../../src/craft/model.ts";
import { type DrillEvent, STILL_AIR } from "../../src/flight/drill.ts";
import { fly } from "../../src/flight/engine.ts";
import type { FlightResult } from "../../src/flight/result.ts";
import { sampleCraft, sampleGains } from "../fixtures/craft.ts";

const flown = (event: Partial<DrillEvent>, computeUs: number, seed = 1): FlightResult => {
	const base = sampleCraft();
	const craft: Craft = { ...base, timing: { ...base.timing, computeUs } };
	const loose = { atSec: 0.1, kind: "looseLoop", jitterUs: 0, skipChance: 0, durationSec: 0.5, ...event };
	return fly({
		craft,
		point: NOMINAL_POINT,
		gainSet: sampleGains(),
		drill: {
			name: "",
			about: "",
			durationSec: 1,
			heightM: 20,
			seed,
			events: [loose as DrillEvent],
			wind: STILL_AIR,
		},
		options: { noise: false, rounding: false },
	});
};

describe("a loop loosened by a drill", () => {
	it.each([
		[1000, 0],
		[3000, 500],
		[20_000, 500],
		[20_000, 1900],
	])(
		"with jitter of %i us and %i us of computing flies, and loses no tick for good",
		(jitterUs, computeUs) => {
			for (const seed of [1, 2, 3]) {
				const flight = flown({ jitterUs }, computeUs, seed);
				expect(flight.status).toBe("completed");
				// 501 at 500 Hz; what jitter delayed past the end of its time is caught up.
				expect(flight.counters.ticks).toBe(501);
			}
		},
	);
	it("skips every tick at a chance of 1, and none after", () =>
		expect(flown({ skipChance: 1, durationSec: 0.2 }, 0).counters.ticks).toBe(501 - 100));
	it("is drawn from the seed", () => {
		const roll = (seed: number): number => flown({ jitterUs: 5000, skipChance: 0.3 }, 0, seed).counters.ticks;
		expect(roll(1)).toBe(roll(1));
		expect([roll(2), roll(3), roll(4)].some((ticks) => ticks !== roll(1))).toBe(true);
	});
});
