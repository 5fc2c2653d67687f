import { describe, expect, it } from "vitest";
import { NOMINAL_POINT } from "../../src/craft/model.ts";
import { type DrillEvent, STILL_AIR } from "../../src/flight/drill.ts";
import { createFlight, fly } from "../../src/flight/engine.ts";
import { sampleCraft, sampleGains } from "../fixtures/craft.ts";

const setupOf = (events: readonly DrillEvent[], craft = sampleCraft()) => ({
	craft,
	point: NOMINAL_POINT,
	gainSet: sampleGains(),
	drill: { name: "", about: "", durationSec: 0.8, heightM: 20, seed: 1, events, wind: STILL_AIR },
	options: { noise: false, rounding: false, recordPeriodUs: 1000 },
});

describe("a sensor frozen from the first instant", () => {
	it("goes on saying what the loop held at trim: bias and level offset, not zero", () => {
		const base = sampleCraft();
		const sensors = {
			...base.sensors,
			levelOffsetRad: [0.02, -0.01] as const,
			gyroBiasRadPerSec: [0.03, 0, 0] as const,
		};
		const flight = createFlight(
			setupOf(
				[
					{ atSec: 0, kind: "frozen", sensor: "attitude", durationSec: 0.5 },
					{ atSec: 0, kind: "frozen", sensor: "gyro", durationSec: 0.5 },
				],
				{ ...base, sensors },
			),
		);
		const held = (name: string): number =>
			flight.state[flight.live().find((entry) => entry.name === name)!.index]!;
		flight.advanceTo(100_000);
		expect(held("roll held")).toBeCloseTo(0.02, 12);
		expect(held("pitch held")).toBeCloseTo(-0.01, 12);
		expect(flight.result().trace.columns["rollRateMeasured"]!.at(-1)).toBeCloseTo(0.03, 12);
	});
});

describe("a glitch of the gyro", () => {
	it("is added to the reading of its axis exactly, for the samples of its time", () => {
		// Bias read by a frozen body: the first sample of the glitch differs from the one before by its size.
		const { columns } = fly(
			setupOf([{ atSec: 0.3, kind: "glitch", sensor: "gyro", axis: "yaw", size: 0.5, durationSec: 0.002 }]),
		).trace;
		const said = columns["yawRateMeasured"]!;
		expect(said[299]).toBeCloseTo(0, 9);
		expect(said[300]).toBeCloseTo(0.5, 9);
		// 2 ms later the body has been pushed against it, by no more than its motors can.
		expect(Math.abs(said[302]!)).toBeLessThan(0.01);
	});
});

describe("a snapshot within a fault", () => {
	it("flies on the same", () => {
		const flight = createFlight(
			setupOf([{ atSec: 0.1, kind: "glitch", sensor: "gyro", axis: "roll", size: 1, durationSec: 0.3 }]),
		);
		flight.advanceTo(200_000);
		const kept = flight.snapshot();
		flight.advanceTo(300_000);
		const once = Array.from(flight.state);
		flight.restore(kept);
		flight.advanceTo(300_000);
		expect(Array.from(flight.state)).toEqual(once);
	});
});
