import { describe, expect, it } from "vitest";
import { closeCalls } from "../../src/report/flown-words.ts";
import type { FlightJson } from "../../src/report/json/fly.ts";

const flight = (pitchOff: number | null, heights: readonly [number, number | null][] = []) =>
	({
		metrics: {
			roll: { peakDeviationDeg: 3 },
			pitch: { peakDeviationDeg: pitchOff },
			yaw: { peakDeviationDegPerSec: 99 },
		},
		heights: heights.map(([targetM, peakErrorM]) => ({ targetM, peakErrorM })),
	}) as unknown as FlightJson;

describe("what nearly lost a flight that went to its end", () => {
	it("an angle far off, and height", () => {
		expect(closeCalls(flight(53.4, [[3, 2.84]]))).toEqual([
			"pitch was up to 53 deg off",
			"height was up to 2.84 m off the 3.00 m asked for",
		]);
	});
	it("nothing where all stayed near, is not known, or a turn rate alone was off", () => {
		expect(closeCalls(flight(12, [[3, 0.4]]))).toEqual([]);
		expect(closeCalls(flight(null, [[3, null]]))).toEqual([]);
	});
});
