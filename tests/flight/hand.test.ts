import { describe, expect, it } from "vitest";
import { throttleFromStick } from "../../src/control/sticks.ts";
import { type Craft, NOMINAL_POINT } from "../../src/craft/model.ts";
import { type Drill, type DrillEvent, STILL_AIR } from "../../src/flight/drill.ts";
import { createFlight, fly } from "../../src/flight/engine.ts";
import type { FlightOptions } from "../../src/flight/setup.ts";
import { leastAllocatedBytes } from "../fixtures/allocated-bytes.ts";
import { sampleCraft, sampleGains } from "../fixtures/craft.ts";

const QUIET: FlightOptions = { noise: false, rounding: false };
const HANDS = ["law", "pilot"] as const;
const keep = (atSec: number, heightM: number, by: "law" | "pilot"): DrillEvent => ({
	atSec,
	kind: "height",
	heightM,
	by,
});
const setupOf = (
	events: DrillEvent[],
	change: Partial<Drill> = {},
	options: FlightOptions = QUIET,
	craft: Craft = sampleCraft(),
) => ({
	craft,
	point: NOMINAL_POINT,
	gainSet: sampleGains(),
	drill: {
		name: "test",
		about: "",
		durationSec: 10,
		heightM: 10,
		seed: 3,
		events,
		wind: STILL_AIR,
		...change,
	},
	options,
});
/** Height of the feet and throttle at a time. */
const read = (result: ReturnType<typeof fly>, startM: number) => {
	const { time, down, throttle } = result.trace.columns;
	const at = (sec: number): number => time!.findIndex((t) => t >= sec - 1e-9);
	return {
		height: (sec: number) => startM + down![0]! - down![at(sec)]!,
		throttle: (sec: number) => throttle![at(sec)]!,
		all: throttle!,
	};
};

describe.each(HANDS)("height kept by the %s", (by) => {
	it("stays where it is at hover, with every motor where it was", () => {
		const { height, all } = read(fly(setupOf([keep(0, 10, by)])), 10);
		expect(Math.abs(height(10) - 10)).toBeLessThan(1e-6);
		expect(Math.abs(all.at(-1)! - all[0]!)).toBeLessThan(1e-6);
	});
	it("climbs three metres at no more than about 1 m/s and stays", () => {
		const result = fly(setupOf([keep(1, 13, by)], { durationSec: 20 }));
		const { height } = read(result, 10);
		const fastest = result.trace.columns["velocityDown"]!.reduce((a, b) => Math.min(a, b));
		// Inflow takes its part: the law settles at 3 / (3 + damping) m/s.
		expect(-fastest).toBeGreaterThan(0.7);
		expect(-fastest).toBeLessThan(1.2);
		expect(Math.abs(height(20) - 13)).toBeLessThan(0.05);
	});
	it("lifts off from the ground and keeps a metre, throttle moving no faster than half its travel a second", () => {
		const events: DrillEvent[] = [{ atSec: 0.2, kind: "makeLive" }, keep(1, 1, by)];
		const result = fly(setupOf(events, { start: "ground", heightM: 0, durationSec: 15 }));
		expect(result.status).toBe("completed");
		const { height, all } = read(result, 0);
		expect(Math.abs(height(15) - 1)).toBeLessThan(0.05);
		expect(all[0]).toBe(0);
		const jump = all.reduce((most, v, i) => Math.max(most, v - (all[i - 1] ?? 0)), 0);
		expect(jump).toBeGreaterThan(0.009);
		expect(jump).toBeLessThan(0.01 + 1e-9);
	});
	it("finds its height again with a load that it did not expect", () => {
		const events: DrillEvent[] = [
			keep(0, 10, by),
			{ atSec: 1, kind: "takeUp", massKg: 0.2, positionM: [0, 0, 0.05] },
		];
		const result = fly(setupOf(events, { durationSec: 40 }));
		const { height, throttle } = read(result, 10);
		expect(height(4)).toBeLessThan(9.9);
		expect(Math.abs(height(40) - 10)).toBeLessThan(0.05);
		expect(throttle(40)).toBeGreaterThan(throttle(0) + 0.02);
	});
	it("leaves the throttle where it is, and gives it up to whoever else takes it", () => {
		const left = read(
			fly(setupOf([keep(1, 12, by), { atSec: 2, kind: "leaveThrottle" }], { durationSec: 3 })),
			10,
		);
		expect(left.throttle(2.1)).not.toBe(left.throttle(0));
		expect(left.throttle(3)).toBe(left.throttle(2.1));
		const taken = read(
			fly(setupOf([keep(1, 12, by), { atSec: 2, kind: "throttle", throttle: 0.5 }], { durationSec: 3 })),
			10,
		);
		expect(taken.throttle(2.1)).toBe(0.5);
		expect(taken.throttle(3)).toBe(0.5);
		const stick = read(
			fly(
				setupOf([keep(1, 12, by), { atSec: 2, kind: "stick", axis: "throttle", readingUs: 1500 }], {
					durationSec: 3,
				}),
			),
			10,
		);
		expect(stick.throttle(3)).toBeCloseTo(0.5, 12);
	});
	it("comes back from a snapshot to the same numbers", () => {
		const flight = createFlight(setupOf([keep(0.5, 11, by)], {}, { ...QUIET, recordPeriodUs: 0 }));
		flight.advanceJustBefore(2_000_000);
		const here = flight.snapshot();
		flight.advanceJustBefore(3_000_000);
		const there = flight.snapshot();
		flight.restore(here);
		flight.advanceJustBefore(3_000_000);
		expect(Array.from(flight.snapshot())).toEqual(Array.from(there));
	});
	it("allocates nothing beyond what a stick's reading boxes: under 64 bytes a movement", () => {
		const flight = createFlight(
			setupOf([keep(0, 10, by)], { durationSec: 160 }, { ...QUIET, recordPeriodUs: 0, rounding: true }),
		);
		const least = leastAllocatedBytes(40, (i) => flight.advanceTo(4e6 * (i + 1)));
		expect(least).toBeLessThan(200 * 64);
	});
});

describe("the person's stick", () => {
	const timing = sampleCraft().timing;
	it("moves 260 ms after what it answers, at the next receiver frame", () => {
		const craft = sampleCraft({
			timing: { ...timing, receiver: { periodUs: 20_000, phaseUs: 7000 } },
		});
		const result = fly(
			setupOf([keep(1, 11, "pilot")], { durationSec: 2 }, { ...QUIET, recordPeriodUs: 1000 }, craft),
		);
		const { time, throttle } = result.trace.columns;
		const first = throttle!.findIndex((v) => Math.abs(v - throttle![0]!) > 1e-12);
		expect(time![first]).toBeCloseTo(1 + 0.26 + 0.007, 9);
	});
	it("goes through the calibration of a crooked, reversed stick, in whole microseconds where readings are rounded", () => {
		const stick = {
			lowUs: 1094,
			centreUs: 1512,
			highUs: 1906,
			reverse: true,
			deadBand: 0.03,
			centreSoftness: 0,
		};
		const craft = sampleCraft({ sticks: { ...sampleCraft().sticks, throttle: stick } });
		const events = [keep(1, 11, "pilot")];
		const plain = read(fly(setupOf(events, { durationSec: 6 })), 10);
		const crooked = read(fly(setupOf(events, { durationSec: 6 }, QUIET, craft)), 10);
		expect(Math.abs(crooked.height(6) - plain.height(6))).toBeLessThan(1e-9);
		const rounded = fly(setupOf(events, { durationSec: 6 }, { noise: false, rounding: true }, craft));
		const possible = new Set(
			Array.from({ length: 900 }, (_, i) => throttleFromStick(stick, 1050 + i).toFixed(12)),
		);
		const after = rounded.trace.columns["throttle"]!.filter((_, i) => i > 600);
		expect(new Set(after).size).toBeGreaterThan(20);
		for (const v of after) expect(possible.has(v.toFixed(12))).toBe(true);
	});
	it("does not get through while frames are lost, and does at once afterwards", () => {
		const events: DrillEvent[] = [keep(1, 13, "pilot"), { atSec: 1.5, kind: "framesLost", durationSec: 0.4 }];
		const { throttle } = read(fly(setupOf(events, { durationSec: 3 })), 10);
		expect(throttle(1.88)).toBe(throttle(1.52));
		expect(Math.abs(throttle(1.94) - throttle(1.88))).toBeGreaterThan(0.005);
	});
});
