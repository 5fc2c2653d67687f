import { describe, expect, it } from "vitest";
import { NOMINAL_POINT } from "../../src/craft/model.ts";
import { type Drill, STILL_AIR } from "../../src/flight/drill.ts";
import { createFlight, fly } from "../../src/flight/engine.ts";
import type { PivotSpec, StringsSpec } from "../../src/physics/rig-spec.ts";
import { leastAllocatedBytes } from "../fixtures/allocated-bytes.ts";
import { sampleCraft, sampleGains } from "../fixtures/craft.ts";

const craft = sampleCraft({
	propulsion: { ...sampleCraft().propulsion, inflowCoefficient: 0, inPlaneDragCoefficient: 0 },
	airframe: { ...sampleCraft().airframe, dragAreaM2: [0, 0, 0], groundEffect: false },
});
const PIVOT: PivotSpec = {
	kind: "pivot",
	axis: "roll",
	throughM: [0, 0, 0],
	addedInertiaKgM2: 0,
	frictionNmSec: 0,
	startAngleRad: 0,
	stopAngleRad: null,
};
const drill = (change: Partial<Drill>): Drill => ({
	name: "x",
	about: "",
	durationSec: 2,
	heightM: 10,
	seed: 1,
	events: [{ atSec: 0.2, kind: "angle", axis: "roll", angleRad: 0.15 }],
	wind: STILL_AIR,
	...change,
});
const flown = (change: Partial<Drill>, noise = false) =>
	fly({
		craft,
		point: NOMINAL_POINT,
		gainSet: sampleGains(),
		drill: drill(change),
		options: { noise, rounding: false },
	});

describe("on a pivot through its middle that adds nothing", () => {
	it("a craft that feels no air answers as in flight", () => {
		const free = flown({}).trace.columns;
		const held = flown({ rig: PIVOT }).trace.columns;
		let most = 0;
		for (const name of ["roll", "rollRate", "rollRateMeasured", "rollOutput", "command0", "rotorSpeed2"]) {
			const size = Math.max(...free[name]!.map(Math.abs));
			most = Math.max(most, Math.max(...free[name]!.map((v, i) => Math.abs(v - held[name]![i]!))) / size);
		}
		// The gyro's low-pass takes the rate as changing evenly over a step of 1 ms instead of Runge-Kutta's own cubic.
		expect(most).toBeLessThan(2e-4);
		expect(Math.max(...free["roll"]!)).toBeGreaterThan(0.14);
		// In the air it slides off; on the pivot it stays.
		expect(Math.abs(free["east"]!.at(-1)!)).toBeGreaterThan(0.5);
		expect(Math.max(...held["east"]!.map(Math.abs))).toBeLessThan(1e-12);
	});
});

describe("a rig from its start on", () => {
	it("lets the craft right itself from the start angle, which the sensors see", () => {
		const { trace, status } = flown({ rig: { ...PIVOT, startAngleRad: 0.3 }, events: [] });
		const { roll, rollRateMeasured, pitch } = trace.columns;
		expect(status).toBe("completed");
		expect(roll![0]).toBeCloseTo(0.3, 12);
		expect(rollRateMeasured![0]).toBe(0);
		expect(Math.abs(roll!.at(-1)!)).toBeLessThan(0.02);
		expect(Math.max(...pitch!.map(Math.abs))).toBeLessThan(1e-12);
	});

	it("holds at its stops and says flipped beyond 90 degrees without them", () => {
		const push = [{ atSec: 0.1, kind: "torque" as const, torqueNm: [3, 0, 0] as const, durationSec: 1.5 }];
		const held = flown({ rig: { ...PIVOT, stopAngleRad: 0.7 }, events: push });
		expect(held.status).toBe("completed");
		expect(Math.max(...held.trace.columns["roll"]!)).toBeCloseTo(0.7, 12);
		const loose = flown({ rig: PIVOT, events: push });
		expect(loose.status).toBe("flipped");
	});

	it("continues from a snapshot as it would have gone on", () => {
		const setup = {
			craft,
			point: NOMINAL_POINT,
			gainSet: sampleGains(),
			drill: drill({ rig: { ...PIVOT, throughM: [0, 0, -0.05] as const } }),
			options: { noise: false },
		};
		const flight = createFlight(setup);
		flight.advanceTo(600_000);
		const kept = flight.snapshot();
		flight.advanceTo(900_000);
		const first = flight.state.slice();
		flight.restore(kept);
		flight.advanceTo(900_000);
		expect(flight.state).toEqual(first);
	});

	it("flies without allocating", () => {
		const strings: StringsSpec = {
			kind: "strings",
			axis: "roll",
			strings: [
				{ bodyM: [0.2, 0, -0.03], lengthM: 1 },
				{ bodyM: [-0.2, 0, -0.03], lengthM: 1 },
			],
			stiffnessNPerM: 2000,
			dampingNSecPerM: 20,
			startAngleRad: 0.1,
		};
		for (const rig of [{ ...PIVOT, throughM: [0, 0, -0.05] as const }, strings]) {
			const flight = createFlight({
				craft,
				point: NOMINAL_POINT,
				gainSet: sampleGains(),
				drill: drill({ rig, durationSec: 60, events: [] }),
				options: { recordPeriodUs: 0 },
			});
			const least = leastAllocatedBytes(10, (i) => flight.advanceTo(4e6 * (i + 1)));
			expect(least).toBeLessThan(8000);
		}
	});
});

describe("on strings", () => {
	it("at less than hover throttle hangs in them, at more it flies up and they go slack", () => {
		const strings: StringsSpec = {
			kind: "strings",
			axis: "roll",
			strings: [
				{ bodyM: [0.2, 0, -0.03], lengthM: 1 },
				{ bodyM: [-0.2, 0, -0.03], lengthM: 1 },
			],
			stiffnessNPerM: 2000,
			dampingNSecPerM: 20,
			startAngleRad: 0,
		};
		const at = (ofHover: number) =>
			flown({
				rig: strings,
				durationSec: 3,
				events: [{ atSec: 0, kind: "throttle" as const, throttle: 0, ofHover }],
			}).trace.columns;
		const low = at(0.8);
		const speeds = low["rotorSpeed0"]!.at(-1)!;
		const thrust = 4 * craft.propulsion.thrustCoefficient * speeds * speeds;
		const sunk = low["down"]!.at(-1)! - low["down"]![0]!;
		expect(sunk).toBeCloseTo((craft.bare.massKg * 9.80665 - thrust) / (2 * 2000), 5);
		expect(sunk).toBeGreaterThan(5e-4);
		expect(at(1.1)["down"]!.at(-1)!).toBeLessThan(low["down"]![0]! - 0.5);
	});
});
