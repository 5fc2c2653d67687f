import { describe, expect, it } from "vitest";
import { closeCalls } from "../../src/report/flown-words.ts";
import type { FlightJson } from "../../src/report/json/fly.ts";

type Height = readonly [targetM: number, lowestM: number | null, highestM: number | null];

const flight = (pitchOff: number | null, heights: readonly Height[] = []) =>
	({
		metrics: {
			roll: { peakDeviationDeg: 3 },
			pitch: { peakDeviationDeg: pitchOff },
			yaw: { peakDeviationDegPerSec: 99 },
		},
		heights: heights.map(([targetM, lowestM, highestM]) => ({ targetM, lowestM, highestM })),
	}) as unknown as FlightJson;
const ofHeight = (...height: Height): string[] => closeCalls(flight(null, [height]));

describe("what nearly lost a flight that went to its end", () => {
	it("an angle far off, and height", () => {
		expect(closeCalls(flight(53.4, [[3, 0.16, 3.1]]))).toEqual([
			"pitch was up to 53 deg off",
			"the feet were down to 0.16 m where 3.00 m were asked for",
		]);
	});
	it("nothing where all stayed near, is not known, or a turn rate alone was off", () => {
		expect(closeCalls(flight(12, [[3, 2.6, 3.4]]))).toEqual([]);
		expect(closeCalls(flight(null, [[3, null, null]]))).toEqual([]);
	});
	it("high: beyond half of the height, either way", () => {
		expect(ofHeight(3, 1.51, 4.49)).toEqual([]);
		expect(ofHeight(3, 1.49, 3)).toEqual(["the feet were down to 1.49 m where 3.00 m were asked for"]);
		expect(ofHeight(3, 3, 4.51)).toEqual(["the feet were up to 4.51 m where 3.00 m were asked for"]);
	});
	it("low: coming in from above or below within the 10 cm that count as arrived is none, coming nearer to the ground is", () => {
		expect(ofHeight(0.165, 0.165, 0.265)).toEqual([]);
		expect(ofHeight(0.165, 0.165 - 0.1 + 1e-9, 0.2)).toEqual([]);
		expect(ofHeight(0.165, 0.06, 0.2)).toEqual(["the feet were down to 0.06 m where 0.17 m were asked for"]);
	});
	it("low: up there is half a metre of room", () => {
		expect(ofHeight(0.165, 0.165, 0.66)).toEqual([]);
		expect(ofHeight(0.165, 0.165, 0.67)).toEqual(["the feet were up to 0.67 m where 0.17 m were asked for"]);
	});
	it("begun on the ground, for less than counts as arrived: nothing to fall", () => {
		expect(ofHeight(0.08, 0, 0.12)).toEqual([]);
	});
});
