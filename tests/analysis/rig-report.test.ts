import { describe, expect, it } from "vitest";
import { inTheAir, rigReport } from "../../src/analysis/rig-report.ts";
import { NOMINAL_POINT } from "../../src/craft/model.ts";
import { type Drill, type DrillEvent, STILL_AIR } from "../../src/flight/drill.ts";
import type { PivotSpec, RigSpec, StringsSpec } from "../../src/physics/rig-spec.ts";
import { sampleCraft, sampleGains } from "../fixtures/craft.ts";

const G = 9.80665;
const craft = sampleCraft();
const PIVOT: PivotSpec = {
	kind: "pivot",
	axis: "roll",
	throughM: [0, 0, -0.05],
	addedInertiaKgM2: 0.004,
	frictionNmSec: 0.002,
	startAngleRad: 0,
	stopAngleRad: 1,
};
const STRINGS: StringsSpec = {
	kind: "strings",
	axis: "roll",
	strings: [
		{ bodyM: [0.2, 0, -0.06], lengthM: 1 },
		{ bodyM: [-0.2, 0, -0.06], lengthM: 1 },
	],
	stiffnessNPerM: 2000,
	dampingNSecPerM: 20,
	startAngleRad: 0,
};
const lean: DrillEvent = { atSec: 1, kind: "angle", axis: "roll", angleRad: 0.1 };
const low: DrillEvent = { atSec: 0, kind: "throttle", throttle: 0, ofHover: 0.8 };
const drillOn = (rig: RigSpec, events: readonly DrillEvent[] = [lean]): Drill => ({
	name: "x",
	about: "",
	durationSec: 3,
	heightM: 10,
	seed: 1,
	events,
	wind: STILL_AIR,
	rig,
});
const reportOn = (rig: RigSpec, events?: readonly DrillEvent[]) =>
	rigReport(craft, NOMINAL_POINT, sampleGains(), drillOn(rig, events));

describe("a pivot", () => {
	const found = reportOn(PIVOT);
	const swinging = 1.9 * 0.05 ** 2;
	it("adds m r^2 and its own inertia, and the pendulum's stiffness m g r", () => {
		const { geometry } = found;
		expect(geometry.swingingInertiaKgM2).toBeCloseTo(swinging, 12);
		expect(geometry.inertiaFactor).toBeCloseTo((0.022 + swinging + 0.004) / 0.022, 12);
		expect(geometry.stiffnessNmPerRad).toBeCloseTo(1.9 * G * 0.05, 12);
		expect(geometry.periodSec).toBeCloseTo(
			2 * Math.PI * Math.sqrt((0.022 + swinging + 0.004) / (1.9 * G * 0.05)),
			12,
		);
	});

	it("lowers the crossover and raises the limit of kp by about the inertia factor", () => {
		const { rig, air } = found.loops!;
		const ratio =
			air.margins.rateLoop.crossoverRadPerSec.value! / rig.margins.rateLoop.crossoverRadPerSec.value!;
		expect(ratio).toBeGreaterThan(1.2);
		expect(ratio).toBeLessThan(found.geometry.inertiaFactor);
		// At the shake's frequency the body is nearly a pure inertia, so that the whole loop is lower by the factor: its gain margin says so.
		const more = rig.margins.rateLoop.gainMarginUpDb.value! - air.margins.rateLoop.gainMarginUpDb.value!;
		expect(10 ** (more / 20)).toBeCloseTo(found.geometry.inertiaFactor, 1);
		expect(rig.growthPerSec).toBeLessThan(0);
	});

	it("says so, with the numbers", () => {
		const text = found.sentences.join("\n");
		expect(text).toContain("as if its inertia were 1.4 times larger");
		expect(text).toMatch(/times too high for the air looks calm here/);
		expect(text).toContain("the pendulum's own stiffness of 0.93 N m/rad");
		expect(text).toContain("hides a wrong level");
		expect(text).toContain("its friction of 0.002 N m s/rad");
	});

	it("that adds nothing changes no margin and has nothing to say but that tilt drifts", () => {
		const { loops, sentences, geometry } = reportOn({
			...PIVOT,
			throughM: craft.bare.centreOfMassM,
			addedInertiaKgM2: 0,
			frictionNmSec: 0,
		});
		const { rig, air } = loops!;
		expect(geometry.inertiaFactor).toBe(1);
		expect(rig.margins.rateLoop.gainMarginUpDb.value!).toBeCloseTo(
			air.margins.rateLoop.gainMarginUpDb.value!,
			2,
		);
		expect(sentences).toEqual(["nothing pulls it back to level: tilt drifts as in the air"]);
	});

	it("under the middle topples, and that is said", () => {
		const { geometry, sentences } = reportOn({ ...PIVOT, throughM: [0, 0, 0.05] });
		expect(geometry.stiffnessNmPerRad).toBeCloseTo(-1.9 * G * 0.05, 12);
		expect(geometry.periodSec).toBeNull();
		expect(sentences.join()).toContain("it topples with 0.93 N m/rad");
	});
});

describe("strings", () => {
	it("hold by the weight that thrust leaves them, over the tied points' height", () => {
		const { geometry, ofHover, sentences } = reportOn(STRINGS, [low, lean]);
		expect(ofHover).toBeCloseTo(0.8, 9);
		// Statically, free to give way sideways: each string leans back until it and the leaning thrust balance; tension times height carries, and the thrust pulls that way too.
		const share = geometry.stiffnessNmPerRad / (1.9 * G * 0.06);
		expect(share).toBeCloseTo(1, 2);
		expect(sentences.join()).toContain("at 80 % of hover throttle");
	});

	it("are slack at hover throttle: no margins, with the reason", () => {
		const { loops, why } = reportOn(STRINGS);
		expect(loops).toBeNull();
		expect(why).toContain("slack");
	});

	it("two side by side hold yaw as the bifilar pendulum, tension over length", () => {
		const sideBySide = STRINGS.strings.map(({ bodyM: [x, y, z] }) => ({
			bodyM: [y, x, z] as const,
			lengthM: 1,
		}));
		const { geometry } = reportOn({ ...STRINGS, axis: "yaw", strings: sideBySide }, [
			low,
			{ atSec: 1, kind: "rate", axis: "yaw", rateRadPerSec: 0.1 },
		]);
		const carried = (geometry.stiffnessNmPerRad * 1) / 0.2 ** 2;
		// The strings carry what thrust at 0.8 of hover throttle does not, between a quarter and four tenths of the weight.
		expect(carried / (1.9 * G)).toBeGreaterThan(0.25);
		expect(carried / (1.9 * G)).toBeLessThan(0.4);
		expect(geometry.periodSec).toBeCloseTo(2 * Math.PI * Math.sqrt(0.04 / geometry.stiffnessNmPerRad), 12);
	});
});

it("in the air the same is asked for, without the rig and its throttle", () => {
	const air = inTheAir(drillOn(STRINGS, [low, lean]));
	expect(air.rig).toBeUndefined();
	expect(air.events).toEqual([lean]);
});

it("refuses a drill without a rig", () => {
	const { rig: _, ...free } = drillOn(PIVOT);
	expect(() => rigReport(craft, NOMINAL_POINT, sampleGains(), free)).toThrow(/has no rig/);
});
