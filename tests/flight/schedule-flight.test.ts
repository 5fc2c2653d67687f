import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import type { GainSchedule, GainSet } from "../../src/control/spec.ts";
import { NOMINAL_POINT, type OperatingPoint } from "../../src/craft/model.ts";
import { type Drill, type DrillEvent, STILL_AIR } from "../../src/flight/drill.ts";
import { fly } from "../../src/flight/engine.ts";
import { gainsAt } from "../../src/physics/gains-at.ts";
import { loadsAt } from "../../src/physics/plant-at.ts";
import { loadScenario } from "../../src/scenario/load.ts";

const loaded = loadScenario(readFileSync(new URL("../../scenarios/sandpiper.json", import.meta.url), "utf8"));
if (!loaded.ok) throw new Error(JSON.stringify(loaded.errors));
const { craft, gainSets } = loaded.scenario;
const plain = gainSets[1]!;

const same = [
	[1, 1],
	[1, 1],
];
const one = { kAngle: same, kp: same, ki: same, kd: same };
const more = {
	...one,
	kp: [
		[1, 1.2],
		[1.3, 1.5],
	],
	kd: [
		[1, 1.2],
		[1.3, 1.5],
	],
};
const scheduleOf = (factors: Partial<GainSchedule["factors"]>): GainSchedule => ({
	link: 0,
	hinge: "boom",
	anglesRad: [0, Math.PI / 2],
	loadsKg: [0, 0.3],
	factors: { roll: one, pitch: one, yaw: one, ...factors },
});
const follows: GainSet = { ...plain, schedule: scheduleOf({ roll: more, pitch: more }) };

const drillOf = (events: readonly DrillEvent[]): Drill => ({
	name: "d",
	about: "",
	durationSec: 3,
	heightM: 100,
	seed: 1,
	events: [{ atSec: 1, kind: "torque", torqueNm: [0.1, 0.1, 0], durationSec: 0.2 }, ...events],
	wind: STILL_AIR,
});

function flown(set: GainSet, point: OperatingPoint, events: readonly DrillEvent[] = []) {
	const { status, trace } = fly({
		craft,
		point,
		gainSet: set,
		drill: drillOf(events),
		options: { noise: false, rounding: false, recordPeriodUs: 10_000 },
	});
	expect(status).toBe("completed");
	return { roll: Array.from(trace.columns["roll"]!), pitch: Array.from(trace.columns["pitch"]!) };
}

const FAR: OperatingPoint = { ...NOMINAL_POINT, limbRad: [Math.PI / 2, -Math.PI / 2], load: "heaviest" };
const still: DrillEvent = { atSec: 0, kind: "limb", link: 0, angleRad: Math.PI / 2 };
const [taken] = loadsAt(craft, FAR);
const takeUp: DrillEvent = {
	atSec: 0.2,
	kind: "takeUp",
	massKg: 0.3,
	positionM: taken!.positionM,
	inGrip: true,
};

describe("gains that follow limb and load, in flight", () => {
	it("where neither moves are those fixed there, to the last bit, whether the limb is simulated or not", () => {
		const fixed = gainsAt(craft, follows, FAR);
		expect(fixed.roll.kp).toBe(1.5 * plain.roll.kp);
		expect(flown(follows, FAR)).toEqual(flown(fixed, FAR));
		expect(flown(follows, FAR, [still])).toEqual(flown(fixed, FAR, [still]));
		expect(flown(follows, FAR)).not.toEqual(flown(plain, FAR));
	});
	it("of factors 1 change nothing while the limb swings and a load is taken up and let go", () => {
		const events: DrillEvent[] = [
			{ atSec: 0.1, kind: "limb", link: 0, angleRad: Math.PI / 2 },
			takeUp,
			{ atSec: 2, kind: "letGo" },
		];
		const ones: GainSet = { ...plain, schedule: scheduleOf({}) };
		expect(flown(ones, NOMINAL_POINT, events)).toEqual(flown(plain, NOMINAL_POINT, events));
	});
	it("after a load that let go unnoticed stay those of the load, to the last bit; noticed they do not", () => {
		const letGo = (unnoticed: boolean): DrillEvent[] => [still, { atSec: 0.5, kind: "letGo", unnoticed }];
		const held = gainsAt(craft, follows, FAR);
		expect(flown(follows, FAR, letGo(true))).toEqual(flown(held, FAR, letGo(true)));
		expect(flown(follows, FAR, letGo(false))).not.toEqual(flown(held, FAR, letGo(false)));
	});
});
