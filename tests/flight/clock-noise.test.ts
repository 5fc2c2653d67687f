import { describe, expect, it } from "vitest";
import { NOMINAL_POINT } from "../../src/craft/model.ts";
import { STILL_AIR } from "../../src/flight/drill.ts";
import { createFlight } from "../../src/flight/engine.ts";
import { sampleCraft, sampleGains } from "../fixtures/craft.ts";

function flightWith(jitterUs: number, skipChance: number) {
	const base = sampleCraft();
	return createFlight({
		craft: sampleCraft({
			timing: { ...base.timing, control: { periodUs: 2000, jitterUs, skipChance } },
		}),
		point: NOMINAL_POINT,
		gainSet: sampleGains(),
		drill: { name: "", about: "", durationSec: 10, heightM: 10, seed: 9, events: [], wind: STILL_AIR },
		options: { recordPeriodUs: 0 },
	});
}

describe("the control clock", () => {
	it("jitters evenly about its grid, within its bound, without drifting", () => {
		const flight = flightWith(200, 0);
		const ticksBy = (timeUs: number): number => {
			flight.advanceTo(timeUs);
			return flight.result().counters.ticks;
		};
		const count = 4000;
		const by = [0, 0, 0];
		for (let k = 1; k <= count; k++) {
			const due = k * 2000;
			expect(ticksBy(due - 201)).toBe(k);
			by[0]! += ticksBy(due - 100) - k;
			by[1]! += ticksBy(due) - k;
			by[2]! += ticksBy(due + 100) - k;
			expect(ticksBy(due + 200)).toBe(k + 1);
		}
		// Four standard deviations of a binomial share; whole microseconds shift a share by up to 0.0025.
		[0.25, 0.5, 0.75].forEach((share, i) => {
			expect(Math.abs(by[i]! / count - share)).toBeLessThan(
				4 * Math.sqrt((share * (1 - share)) / count) + 0.0025,
			);
		});
	});
	it.each([0.05, 0.3])("skips ticks with chance %f", (chance) => {
		const flight = flightWith(0, chance);
		flight.advanceTo(10e6);
		const { ticks } = flight.result().counters;
		expect(Math.abs(ticks / 5001 - (1 - chance))).toBeLessThan(4 * Math.sqrt((chance * (1 - chance)) / 5001));
		expect(flight.ending).toBe(null);
	});
});
