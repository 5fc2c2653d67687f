import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import type { GainSet } from "../../src/control/spec.ts";
import { NOMINAL_POINT } from "../../src/craft/model.ts";
import { type Drill, LEVEL_GROUND, STILL_AIR } from "../../src/flight/drill.ts";
import { fly } from "../../src/flight/engine.ts";
import type { FlightResult } from "../../src/flight/result.ts";
import { loadScenario } from "../../src/scenario/load.ts";
import type { Scenario } from "../../src/scenario/model.ts";
import { sampleCraft, sampleGains } from "../fixtures/craft.ts";
import { mirrored } from "../fixtures/mirrored.ts";

const DEG = 180 / Math.PI;

function shipped(name: string): Scenario {
	const loaded = loadScenario(readFileSync(new URL(`../../scenarios/${name}.json`, import.meta.url), "utf8"));
	if (!loaded.ok) throw new Error(loaded.errors[0]!.message);
	return loaded.scenario;
}
const SANDPIPER = shipped("sandpiper");
const WREN = shipped("wren");

function flown(
	{ craft, gainSets, drills }: Scenario,
	set: string,
	drill: string,
	change: Partial<GainSet> = {},
) {
	const gainSet = { ...gainSets.find((each) => each.name === set)!, ...change };
	return fly({ craft, point: NOMINAL_POINT, gainSet, drill: drills.find((each) => each.name === drill)! });
}
function mostTiltDeg({ trace }: FlightResult): number {
	const { roll, pitch } = trace.columns;
	return DEG * roll!.reduce((most, _, i) => Math.max(most, Math.abs(roll![i]!), Math.abs(pitch![i]!)), 0);
}
const highest = ({ trace }: FlightResult): number => -Math.min(...trace.columns["down"]!);

describe("after a wait on a 5 degree slope", () => {
	it.each([
		[SANDPIPER, "B"],
		[WREN, "A"],
	] as const)(
		"an integral that ran on the ground tips the craft over, one held until lift-off does not",
		(scenario, set) => {
			const drill = "lift-off after a wait on a slope";
			const runs = flown(scenario, set, drill, { liftOff: null });
			expect(runs.status).toBe("tippedOver");
			expect(runs.reason).toMatch(
				/about the rear left and front left feet: the \w+ left propeller touched the ground at \d+ degrees/,
			);
			const held = flown(scenario, set, drill);
			expect(held.status).toBe("completed");
			expect(mostTiltDeg(held)).toBeLessThan(8);
			expect(highest(held)).toBeGreaterThan(0.5);
		},
	);
	it("says so only where the integral is to blame: without one nothing winds up", () => {
		const set = SANDPIPER.gainSets.find((each) => each.name === "B")!;
		const still = flown(SANDPIPER, "B", "lift-off after a wait on a slope", {
			liftOff: null,
			roll: { ...set.roll, ki: 0 },
			pitch: { ...set.pitch, ki: 0 },
		});
		expect(still.status).toBe("completed");
		expect(mostTiltDeg(still)).toBeLessThan(8);
	});
});

describe("the other lift-offs", () => {
	it.each(["lift-off", "lift-off in a gust", "lift-off with a foot stuck"])(
		"%s gets into the air",
		(drill) => {
			for (const scenario of [SANDPIPER, WREN]) {
				const flight = flown(scenario, "A", drill);
				expect(flight.status).toBe("completed");
				expect(highest(flight)).toBeGreaterThan(0.5);
			}
		},
	);
	it("a stuck foot in front on the right pulls that corner down: right side and nose lower than without it", () => {
		const free = flown(SANDPIPER, "A", "lift-off").trace.columns;
		const stuck = flown(SANDPIPER, "A", "lift-off with a foot stuck").trace.columns;
		const most = (name: string, sign: 1 | -1): number =>
			Math.max(...free[name]!.map((v, i) => DEG * sign * ((stuck[name]![i] ?? v) - v)));
		expect(most("roll", 1)).toBeGreaterThan(1);
		expect(most("pitch", -1)).toBeGreaterThan(1);
	});
	it("are mirrored by the mirrored craft on the mirrored slope", () => {
		const craft = sampleCraft();
		const drill = (side: 1 | -1): Drill => ({
			name: "",
			about: "",
			durationSec: 2.5,
			heightM: 0,
			start: "ground",
			ground: { ...LEVEL_GROUND, slopeRad: 0.1, downhillHeadingRad: (side * Math.PI) / 2 },
			seed: 1,
			events: [
				{ atSec: 0.1, kind: "makeLive" },
				{ atSec: 0.5, kind: "throttle", throttle: 1.1, ofHover: 1.1 },
			],
			wind: STILL_AIR,
		});
		const options = { noise: false, rounding: false };
		const gainSet = sampleGains();
		const right = fly({ craft, point: NOMINAL_POINT, gainSet, drill: drill(1), options });
		const left = fly({ craft: mirrored(craft), point: NOMINAL_POINT, gainSet, drill: drill(-1), options });
		expect(right.status).toBe("completed");
		expect(highest(right)).toBeGreaterThan(0.3);
		for (const [name, sign] of [
			["roll", -1],
			["pitch", 1],
			["yaw", -1],
			["east", -1],
			["north", 1],
			["down", 1],
		] as const) {
			const a = right.trace.columns[name]!;
			const b = left.trace.columns[name]!;
			// Sticking and sliding switch inside steps: rounding grows where they do.
			expect(Math.max(...a.map((v, i) => Math.abs(v - sign * b[i]!)))).toBeLessThan(1e-6);
		}
	});
});

describe("coming down", () => {
	const dropped = (heightM: number, crashMPerSec = LEVEL_GROUND.crashMPerSec) =>
		fly({
			craft: sampleCraft(),
			point: NOMINAL_POINT,
			gainSet: sampleGains(),
			drill: {
				name: "",
				about: "",
				durationSec: 3,
				heightM,
				seed: 1,
				ground: { ...LEVEL_GROUND, crashMPerSec },
				events: [{ atSec: 0, kind: "makeSafe" }],
				wind: STILL_AIR,
			},
			options: { noise: false },
		});
	it("is a set-down below the crash speed and a crash above it, at the speed of a fall from there", () => {
		const softly = dropped(0.1);
		expect(softly.status).toBe("completed");
		const hard = dropped(2);
		expect(hard.status).toBe("hitGround");
		// Rotors that run down carry some of it: below free fall's sqrt(2 g h) = 6.3 m/s, above the limit of 2.
		const speed = Number(/at ([\d.]+) m\/s/.exec(hard.reason)![1]);
		expect(speed).toBeGreaterThan(3);
		expect(speed).toBeLessThan(Math.sqrt(2 * 9.80665 * 2));
	});
});
