import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { marginsReport } from "../../src/analysis/margins-report.ts";
import { timingChain } from "../../src/analysis/timing-chain.ts";
import { AXES, type AxisGains, type AxisName, type GainSet } from "../../src/control/spec.ts";
import { type Craft, NOMINAL_POINT } from "../../src/craft/model.ts";
import { createFlight } from "../../src/flight/engine.ts";
import { loadScenario } from "../../src/scenario/load.ts";
import { sampleCraft, sampleGains } from "../fixtures/craft.ts";

/** As the linear analysis reads the craft: one motor lag, unknown phases where it puts them, no jitter, level and unbiased sensors. */
function asAnalysed(craft: Craft): Craft {
	const { timing, propulsion } = craft;
	const chain = timingChain(timing);
	const lag = Math.max(propulsion.tauUpSec, propulsion.tauDownSec);
	return {
		...craft,
		sensors: { ...craft.sensors, gyroBiasRadPerSec: [0, 0, 0], levelOffsetRad: [0, 0] },
		propulsion: { ...propulsion, tauUpSec: lag, tauDownSec: lag },
		timing: {
			...timing,
			gyro: chain.gyro,
			escFrame: chain.frame,
			attitude:
				timing.attitude.kind === "fused" ? { ...timing.attitude, clock: chain.attitude } : timing.attitude,
			control: { ...timing.control, jitterUs: 0, skipChance: 0 },
		},
	};
}

/** Largest |rate| of one axis in each of 20 critical periods after a small kick about it. */
function envelope(craft: Craft, set: GainSet, axis: AxisName, periodSec: number): number[] {
	const torque = AXES.map((a) => (a === axis ? 1e-6 : 0)) as [number, number, number];
	const durationSec = 0.1 + 21 * periodSec;
	const flight = createFlight({
		craft,
		point: NOMINAL_POINT,
		gainSet: set,
		drill: {
			name: "kick",
			about: "",
			durationSec,
			heightM: 50,
			seed: 1,
			events: [{ atSec: 0.05, kind: "torque", torqueNm: torque, durationSec: 0.02 }],
			wind: { meanMPerSec: [0, 0, 0], roughnessM: null, gusts: [], turbulence: null },
		},
		options: { noise: false, rounding: false },
	});
	flight.advanceTo(Math.round(durationSec * 1e6));
	const { columns } = flight.result().trace;
	const time = columns["time"]!;
	const rate = columns[`${axis}Rate`]!;
	const peaks = new Array<number>(20).fill(0);
	time.forEach((t, i) => {
		const k = Math.floor((t - 0.1) / periodSec);
		if (k >= 0 && k < 20) peaks[k] = Math.max(peaks[k]!, Math.abs(rate[i]!));
	});
	return peaks;
}

type Opening = "rateLoop" | "angleLoop" | "wholeAxis";

/** The loop so opened, its gain times k; for the rate loop the angle path is open. */
function changed(set: GainSet, axis: AxisName, opening: Opening, k: number): GainSet {
	const g: AxisGains = set[axis];
	if (opening === "angleLoop")
		return { ...set, [axis]: { ...g, kAngle: g.kAngle * k, kAngleI: g.kAngleI * k } };
	const more = { ...g, kp: g.kp * k, ki: g.ki * k, kd: g.kd * k };
	return { ...set, [axis]: opening === "rateLoop" ? { ...more, kAngle: 0, kAngleI: 0 } : more };
}

const gains = sampleGains();
const lively = (g: AxisGains): AxisGains => ({ ...g, kp: g.kp * 2, ki: 0.5, kd: g.kd * 2 });
const livelyGains: GainSet = { ...gains, roll: lively(gains.roll), pitch: lively(gains.pitch) };
const found = loadScenario(readFileSync(new URL("../../scenarios/sandpiper.json", import.meta.url), "utf8"));
if (!found.ok) throw new Error(JSON.stringify(found.errors));
const sandpiper = found.scenario;

describe.each([
	["sample craft, equal clocks", sampleCraft(), livelyGains],
	["sandpiper, unequal clocks", sandpiper.craft, sandpiper.gainSets[0]!],
] as const)("the full simulator at 0.95 and 1.05 of the gain margin: %s", (_, craft, set) => {
	const result = marginsReport(craft, set, NOMINAL_POINT);
	if (!result.feasible) throw new Error(result.reason);
	const { periodic } = result.report;
	const flown = asAnalysed(craft);

	it.each([
		["roll", "rateLoop"],
		["roll", "angleLoop"],
		["roll", "wholeAxis"],
		["pitch", "rateLoop"],
		["pitch", "angleLoop"],
		["pitch", "wholeAxis"],
		["yaw", "rateLoop"],
	] as const)(
		"%s %s",
		(axis, opening) => {
			const margin = periodic.axes[axis][opening]!.gainMarginUpDb;
			const k = 10 ** (margin.value! / 20);
			const at = (share: number): number[] =>
				envelope(flown, changed(set, axis, opening, k * share), axis, (2 * Math.PI) / margin.radPerSec!);
			const calm = at(0.95);
			const wild = at(1.05);
			// The kick's own answer has died away after three periods.
			expect(calm[19]!).toBeLessThan(0.7 * calm[3]!);
			expect(wild[19]!).toBeGreaterThan(1.4 * wild[3]!);
		},
		20_000,
	);
});
