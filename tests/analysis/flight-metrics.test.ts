import { describe, expect, test } from "vitest";
import { axisFlightMetrics, flightActuators } from "../../src/analysis/flight-metrics.ts";
import { type Drill, STILL_AIR } from "../../src/flight/drill.ts";
import type { FlightResult } from "../../src/flight/result.ts";

const DT = 0.001;

/** A flight whose roll and yaw rate are given functions of time. */
function flight(
	duration: number,
	columns: { readonly [name: string]: (t: number) => number },
	change: Partial<FlightResult> = {},
): FlightResult {
	const length = Math.round(duration / DT) + 1;
	const time = Float64Array.from({ length }, (_, i) => i * DT);
	const all: Record<string, Float64Array> = { time };
	for (const axis of ["roll", "pitch", "yaw"])
		for (const name of [axis, `${axis}SetPoint`, `${axis}Rate`, `${axis}RateSetPoint`])
			all[name] = time.map((t) => columns[name]?.(t) ?? 0);
	for (const name of Object.keys(columns)) all[name] ??= time.map(columns[name]!);
	return {
		status: "completed",
		timeSec: duration,
		reason: "",
		trace: { length, columns: all },
		notes: [],
		outsideModel: [],
		counters: { steps: 0, ticks: 0, events: 0 },
		seed: 1,
		...change,
	};
}

const drill = (change: Partial<Drill> = {}): Drill => ({
	name: "d",
	about: "",
	durationSec: 10,
	heightM: 10,
	seed: 1,
	events: [],
	wind: STILL_AIR,
	...change,
});

const stepDrill = drill({ events: [{ atSec: 1, kind: "angle", axis: "roll", angleRad: 0.2 }] });

/** Unit step of wn^2/(s^2 + 2 zeta wn s + wn^2), zeta 0.5, wn 2. */
const second = (t: number): number => {
	if (t < 0) return 0;
	const wd = 2 * Math.sqrt(0.75);
	return 1 - Math.exp(-t) * (Math.cos(wd * t) + Math.sin(wd * t) / Math.sqrt(3));
};

describe("a step", () => {
	const flown = flight(11, { rollSetPoint: (t) => (t >= 1 ? 0.2 : 0), roll: (t) => 0.2 * second(t - 1) });
	const m = axisFlightMetrics(flown, stepDrill, "roll", "cascade");

	test("has the figures of the second-order system (closed form, zeta 0.5, wn 2)", () => {
		expect(m.step).toEqual({ atSec: 1, from: 0, to: 0.2 });
		expect(m.quantity).toBe("angle");
		expect(m.overshootPct.value).toBeCloseTo(16.3033535, 3);
		expect(m.peakTimeSec.value).toBeCloseTo(3.62759873 / 2, 4);
		expect(m.riseTimeSec.value).toBeCloseTo(1.63757295 / 2, 4);
		expect(m.settlingTime2Sec.value).toBeCloseTo(8.07634897 / 2, 4);
		expect(m.settlingTime5Sec.value).toBeCloseTo(5.28909322 / 2, 4);
		expect(m.steadyStateError.value).toBeCloseTo(0, 4);
	});

	test("other axes are held: no step figures, with the reason", () => {
		const pitch = axisFlightMetrics(flown, stepDrill, "pitch", "cascade");
		expect(pitch.step).toBeNull();
		expect(pitch.overshootPct).toEqual({ value: null, why: "the drill gives this axis no step" });
		expect(pitch.peakDeviation.value).toBe(0);
		expect(pitch.recoverySec.value).toBe(0);
	});

	test("a second step ends the record of the first, and IAE goes on", () => {
		const twice = flight(11, {
			rollSetPoint: (t) => (t >= 6 ? 0 : t >= 1 ? 0.2 : 0),
			roll: (t) => 0.2 * (second(t - 1) - second(t - 6)),
		});
		const both = axisFlightMetrics(twice, stepDrill, "roll", "cascade");
		expect(both.overshootPct.value).toBeCloseTo(16.3033535, 3);
		expect(both.iae.value!).toBeGreaterThan(1.8 * m.iae.value!);
	});

	test("not settled says so", () => {
		const slow = flight(2, {
			rollSetPoint: (t) => (t >= 1 ? 0.2 : 0),
			roll: (t) => 0.2 * second((t - 1) / 3),
		});
		const found = axisFlightMetrics(slow, stepDrill, "roll", "cascade").settlingTime2Sec;
		expect(found.value).toBeNull();
		expect(found.why).toMatch(/still .* bands away/);
	});
});

test("a disturbance: peak, recovery and IAE of a decaying rate (closed form)", () => {
	// 0.5 exp(-2 (t - 1)) rad/s from 1 s on: below 5 deg/s after ln(0.5 / 0.0872665)/2 = 0.87285 s; integral 0.25.
	const flown = flight(11, { yawRate: (t) => (t < 1 ? 0 : 0.5 * Math.exp(-2 * (t - 1))) });
	const kick = drill({ events: [{ atSec: 1, kind: "torque", torqueNm: [0, 0, 1], durationSec: 0.01 }] });
	const m = axisFlightMetrics(flown, kick, "yaw", "cascade");
	expect(m.quantity).toBe("rate");
	expect(m.peakDeviation.value).toBeCloseTo(0.5, 6);
	expect(m.recoverySec.value).toBeCloseTo(Math.log(0.5 / ((5 * Math.PI) / 180)) / 2, 4);
	expect(m.iae.value).toBeCloseTo(0.25, 5);
});

test("rate-only use measures rates on roll as well", () => {
	const flown = flight(3, { rollRateSetPoint: (t) => (t >= 1 ? 1 : 0), rollRate: (t) => (t >= 1 ? 1 : 0) });
	expect(axisFlightMetrics(flown, drill(), "roll", "rateOnly")).toMatchObject({
		quantity: "rate",
		step: { from: 0, to: 1 },
		overshootPct: { value: 0 },
	});
});

test("a flight that ended early has no figures, with the time and the reason", () => {
	const flown = flight(1.5, {}, { status: "flipped", reason: "roll beyond 90 deg" });
	expect(axisFlightMetrics(flown, stepDrill, "roll", "cascade").iae).toEqual({
		value: null,
		why: "the flight ended after 1.50 s: roll beyond 90 deg",
	});
});

test("motors: share of time at an end, headroom, activity; none from a single record", () => {
	const flown = flight(1, {
		command0: (t) => (t < 0.25 ? 1 : 0.5),
		command1: () => 0.3,
		saturated: (t) => (t < 0.25 ? 1 : 0),
	});
	const found = flightActuators(flown.trace, 0.1)!;
	expect(found.saturatedShare).toBeCloseTo(0.25, 2);
	expect(found.leastHeadroom).toBe(0);
	expect(found.activityRms).toBeCloseTo(0.5 / Math.sqrt(2000), 6);
	expect(flightActuators(flight(0, { command0: () => 1 }).trace, 0.1)).toBeNull();
});

test("motors: the share is of the time that they are live", () => {
	const flown = flight(1, {
		command0: (t) => (t < 0.5 ? 0 : 1),
		saturated: (t) => (t < 0.75 ? 0 : 1),
	});
	expect(flightActuators(flown.trace, 0.1)!.saturatedShare).toBeCloseTo(0.5, 2);
});

describe("too little is recorded after what happens", () => {
	const short = (durationSec: number, events: Drill["events"]) =>
		axisFlightMetrics(flight(durationSec, {}), drill({ durationSec, events }), "roll", "cascade");
	const kickAt = (atSec: number): Drill["events"] => [
		{ atSec, kind: "torque", torqueNm: [1, 0, 0], durationSec: 0.01 },
	];

	test("a held value has no figures, with the reason", () => {
		const m = short(2, kickAt(1.999));
		const why = "the drill ends 1 ms after the first thing in it happens: too soon to measure";
		for (const key of ["steadyStateError", "iae", "peakDeviation", "recoverySec"] as const)
			expect(m[key]).toEqual({ value: null, why });
		expect(m.overshootPct.why).toBe("the drill gives this axis no step");
	});

	test("three records are enough, two are not", () => {
		expect(short(0.01, kickAt(0.008)).iae).toEqual({ value: 0 });
		expect(short(0.01, kickAt(0.009)).iae.value).toBeNull();
	});

	test("nor where the drill itself is that short", () => {
		expect(short(0.001, []).iae.why).toBe("the drill ends 1 ms after it begins: too soon to measure");
		expect(short(0.002, []).iae.value).toBe(0);
	});
});
