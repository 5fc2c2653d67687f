import { describe, expect, it } from "vitest";
import { heightMetrics } from "../../src/analysis/height-metrics.ts";
import { type Drill, type DrillEvent, STILL_AIR } from "../../src/flight/drill.ts";
import type { FlightResult } from "../../src/flight/result.ts";

const drillOf = (events: DrillEvent[], change: Partial<Drill> = {}): Drill => ({
	name: "test",
	about: "",
	durationSec: 4,
	heightM: 2,
	seed: 1,
	events,
	wind: STILL_AIR,
	...change,
});
/** A flight whose feet are at these heights every half second, its centre of mass 0.3 m above them. */
const flightOf = (heights: number[], status: FlightResult["status"] = "completed"): FlightResult => ({
	status,
	timeSec: 4,
	reason: status === "completed" ? "" : "it fell",
	trace: {
		length: heights.length,
		columns: {
			time: Float64Array.from(heights, (_, i) => i / 2),
			down: Float64Array.from(heights, (h) => -h - 0.3),
		},
	},
	notes: [],
	outsideModel: [],
	counters: { steps: 0, ticks: 0, events: 0 },
	seed: 1,
});
const rise: DrillEvent = { atSec: 0.5, kind: "height", heightM: 3, by: "pilot" };
const heights = [2, 2, 2.5, 2.95, 3.2, 3.1, 3, 2.9, 2.9];

describe("height metrics, by hand", () => {
	it("arrival, then most off and RMS", () => {
		const [only, ...others] = heightMetrics(flightOf(heights), drillOf([rise]));
		expect(others).toEqual([]);
		expect(only).toMatchObject({ by: "pilot", targetM: 3, atSec: 0.5, arrivalSec: { value: 1 } });
		expect(only!.peakErrorM.value).toBeCloseTo(0.2, 12);
		expect(only!.lowestM.value).toBeCloseTo(2.9, 12);
		expect(only!.highestM.value).toBeCloseTo(3.2, 12);
		expect(only!.rmsErrorM.value).toBeCloseTo(Math.sqrt((0.0025 + 0.04 + 0.01 + 0 + 0.01 + 0.01) / 6), 12);
	});
	it("counts until another is asked for or the throttle is taken", () => {
		const next: DrillEvent = { atSec: 2.5, kind: "height", heightM: 2.95, by: "law" };
		const both = heightMetrics(flightOf(heights), drillOf([rise, next]));
		expect(both.map((m) => m.by)).toEqual(["pilot", "law"]);
		expect(both[0]!.rmsErrorM.value).toBeCloseTo(Math.sqrt((0.0025 + 0.04 + 0.01) / 3), 12);
		expect(both[1]!.arrivalSec.value).toBe(0.5);
		for (const ends of [
			{ atSec: 2, kind: "leaveThrottle" },
			{ atSec: 2, kind: "throttle", throttle: 0.4 },
			{ atSec: 2, kind: "stick", axis: "throttle", readingUs: 1400 },
		] satisfies DrillEvent[]) {
			const [m] = heightMetrics(flightOf(heights), drillOf([rise, ends]));
			expect(m!.rmsErrorM.value).toBeCloseTo(Math.sqrt((0.0025 + 0.04) / 2), 12);
		}
	});
	it("measures from the ground where it starts there", () => {
		const fromGround = [0, 0, 0.5, 1, 1, 1, 1, 1, 1];
		const [m] = heightMetrics(
			flightOf(fromGround),
			drillOf([{ ...rise, heightM: 1 }], { start: "ground", heightM: 7 }),
		);
		expect(m!.peakErrorM.value).toBeCloseTo(0, 12);
	});
	it("says why there is none", () => {
		expect(heightMetrics(flightOf(heights), drillOf([]))).toEqual([]);
		const [far] = heightMetrics(flightOf(heights), drillOf([{ ...rise, heightM: 9 }]));
		expect(far!.arrivalSec).toMatchObject({
			value: null,
			why: expect.stringMatching(/no nearer than 5.80 m within 3.5 s/),
		});
		const [fell] = heightMetrics(flightOf(heights, "hitGround"), drillOf([rise]));
		expect(fell!.rmsErrorM).toMatchObject({ value: null, why: expect.stringMatching(/it fell/) });
	});
});
