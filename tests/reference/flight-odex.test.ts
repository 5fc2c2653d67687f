import { describe, expect, it } from "vitest";
import { type Craft, NOMINAL_POINT } from "../../src/craft/model.ts";
import { type Drill, STILL_AIR } from "../../src/flight/drill.ts";
import { createFlight } from "../../src/flight/engine.ts";
import * as quaternion from "../../src/math/quaternion.ts";
import type { Quat } from "../../src/math/types.ts";
import { sampleCraft, sampleGains } from "../fixtures/craft.ts";
import { referenceFlight } from "../fixtures/reference-flight.ts";

/** Off balance, products of inertia, tilted rotors, pressure off the centre of mass, delays in the chain. */
function crookedCraft(tauUpSec: number, tauDownSec: number): Craft {
	const craft = sampleCraft();
	const tilt = 0.1;
	return sampleCraft({
		bare: {
			massKg: 1.9,
			centreOfMassM: [0.01, -0.006, 0.012],
			inertiaKgM2: [0.022, 0.001, -0.0008, 0.001, 0.025, 0.0005, -0.0008, 0.0005, 0.04],
		},
		rotors: craft.rotors.map((r, i) => ({
			...r,
			axis: [Math.sin(tilt) * (i < 2 ? 1 : -1) * 0.5, 0, -Math.sqrt(1 - (Math.sin(tilt) * 0.5) ** 2)],
			speedFactor: 1 + 0.02 * (i - 1.5),
		})),
		propulsion: { ...craft.propulsion, tauUpSec, tauDownSec },
		airframe: { ...craft.airframe, centreOfPressureM: [0.02, 0.01, -0.03] },
		timing: { ...craft.timing, gyroBusUs: 300, computeUs: 250 },
	});
}

const drill: Drill = {
	name: "all at once",
	about: "",
	durationSec: 1.5,
	heightM: 0.4,
	seed: 1,
	events: [
		{ atSec: 0.1013, kind: "angle", axis: "roll", angleRad: 0.15 },
		{ atSec: 0.5, kind: "angle", axis: "pitch", angleRad: -0.1 },
		{ atSec: 0.7007, kind: "torque", torqueNm: [0.05, -0.03, 0.02], durationSec: 0.2 },
	],
	wind: {
		...STILL_AIR,
		gusts: [{ atSec: 0.30003, velocityMPerSec: [3, -1, 0.5], riseSec: 0.4, ending: "holds" }],
	},
};

function misses(tauUpSec: number, tauDownSec: number): { attitude: number; place: number; speeds: number } {
	const craft = crookedCraft(tauUpSec, tauDownSec);
	const gainSet = sampleGains();
	const want = referenceFlight(craft, NOMINAL_POINT, gainSet, drill);
	const flight = createFlight({
		craft,
		point: NOMINAL_POINT,
		gainSet,
		drill,
		options: { noise: false, rounding: false, recordPeriodUs: 0 },
	});
	flight.advanceTo(1.5e6);
	expect(flight.ending).toBe(null);
	const x = flight.state;
	const got = quaternion.toEuler(Array.from(x.slice(6, 10)) as unknown as Quat);
	const euler = quaternion.toEuler(want.slice(6, 10) as unknown as Quat);
	return {
		attitude: Math.max(...got.map((v, i) => Math.abs(v - euler[i]!))),
		place: Math.max(...[0, 1, 2].map((i) => Math.abs(x[i]! - want[i]!))),
		speeds: Math.max(...[0, 1, 2, 3].map((i) => Math.abs(x[18 + i]! - want[16 + i]!))),
	};
}

describe("whole flights against a high-order extrapolation solver (odex, Hairer and Wanner)", () => {
	it("agree to 1e-7 rad where nothing switches", () => {
		const miss = misses(0.06, 0.06);
		expect(miss.attitude).toBeLessThan(1e-7);
		expect(miss.place).toBeLessThan(1e-7);
		expect(miss.speeds).toBeLessThan(1e-4);
	});
	it("agree to 1e-5 rad where rotors speed up and slow with different lags", () => {
		const miss = misses(0.05, 0.08);
		expect(miss.attitude).toBeLessThan(1e-5);
		expect(miss.place).toBeLessThan(1e-5);
	});
});
