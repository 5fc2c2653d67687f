import { describe, expect, it } from "vitest";
import { axisMarginsOf } from "../../src/analysis/axis-margins.ts";
import { rigLinear } from "../../src/analysis/rig-linear.ts";
import { AXES, type AxisName, type GainSet } from "../../src/control/spec.ts";
import { type Craft, NOMINAL_POINT } from "../../src/craft/model.ts";
import { type DrillEvent, STILL_AIR } from "../../src/flight/drill.ts";
import { createFlight, fly } from "../../src/flight/engine.ts";
import { expm } from "../../src/math/expm.ts";
import type { PivotSpec, RigSpec, StringsSpec } from "../../src/physics/rig-spec.ts";
import { sampleCraft, sampleGains } from "../fixtures/craft.ts";

const PIVOT: PivotSpec = {
	kind: "pivot",
	axis: "roll",
	throughM: [0.01, 0.02, -0.06],
	addedInertiaKgM2: 0.003,
	frictionNmSec: 0.01,
	startAngleRad: 0,
	stopAngleRad: null,
};
const STRINGS: StringsSpec = {
	kind: "strings",
	axis: "roll",
	strings: [
		{ bodyM: [0.2, 0, -0.05], lengthM: 0.7 },
		{ bodyM: [-0.15, 0, -0.05], lengthM: 0.7 },
	],
	stiffnessNPerM: 2000,
	dampingNSecPerM: 15,
	startAngleRad: 0,
};
const onePush = { ...sampleCraft().propulsion, tauUpSec: 0.06, tauDownSec: 0.06 };
const base = sampleCraft({
	propulsion: onePush,
	airframe: { ...sampleCraft().airframe, groundEffect: false },
});
const LEAN = 1e-4;

/** Angle on the rig with the loop's gains at 0, less the same undisturbed: the small swing that is left by a lean at the start, or by a push. */
function swing(
	craft: Craft,
	rig: RigSpec,
	ofHover: number,
	sec: number,
	push: DrillEvent | null = null,
): Float64Array {
	const dead = { kAngle: 0, kAngleI: 0, kp: 0, ki: 0, kd: 0, kff: 0 };
	const gains = sampleGains();
	const gainSet: GainSet = {
		...gains,
		roll: { ...gains.roll, ...dead },
		pitch: { ...gains.pitch, ...dead },
		yaw: { ...gains.yaw, ...dead },
	};
	const run = (disturbed: boolean): Float64Array => {
		const flight = createFlight({
			craft,
			point: NOMINAL_POINT,
			gainSet,
			drill: {
				name: "x",
				about: "",
				durationSec: 30,
				heightM: 500,
				seed: 1,
				events: [{ atSec: 0, kind: "throttle", throttle: 0, ofHover }, ...(disturbed && push ? [push] : [])],
				wind: STILL_AIR,
				rig: { ...rig, startAngleRad: disturbed && !push ? LEAN : 0 },
			},
			options: { noise: false, rounding: false },
		});
		flight.advanceTo(Math.round(sec * 1e6));
		return flight.result().trace.columns[rig.axis]!;
	};
	const level = run(false);
	return run(true).map((v, i) => v - level[i]!);
}

describe("a craft on a rig, motors at constant command", () => {
	it.each(["roll", "pitch"] as const)("swings on a pivot about %s as its linear model", (axis) => {
		for (const estimatorTimeConstantSec of [null, 0.5]) {
			const craft = { ...base, sensors: { ...base.sensors, estimatorTimeConstantSec } };
			const rig = { ...PIVOT, axis };
			const found = rigLinear(craft, NOMINAL_POINT, rig, 1);
			if (!found.feasible) throw new Error(found.reason);
			const { order, a, names } = found.linear;
			const flown = swing(craft, rig, 1, 3);
			let worst = 0;
			for (const t of [0.3, 0.7, 1.3, 2.1, 2.9]) {
				const map = expm(
					a.map((v) => v * t),
					order,
				);
				const from = names.indexOf(`${axis}Error`);
				worst = Math.max(worst, Math.abs(flown[Math.round(t * 500)]! - LEAN * map[from * order + from]!));
			}
			expect(worst / LEAN).toBeLessThan(1e-4);
		}
	});

	it("swings on strings as its linear model, sideways and about its tied points", () => {
		const found = rigLinear(base, NOMINAL_POINT, STRINGS, 0.8);
		if (!found.feasible) throw new Error(found.reason);
		expect(found.thrustShare).toBeGreaterThan(0.6);
		expect(found.thrustShare).toBeLessThan(0.8);
		const { order, a, names, bTorque } = found.linear;
		// Pushed once the motors have slowed down and the strings have taken up the load.
		const push = { atSec: 3, kind: "torque" as const, torqueNm: [1e-3, 0, 0] as const, durationSec: 0.01 };
		const pushed = swing(base, STRINGS, 0.8, 6, push);
		const error = names.indexOf("rollError");
		const momentum = names.indexOf("rollMomentum");
		const worth = 1e-5 * bTorque[3 * momentum]!;
		let worst = 0;
		let most = 0;
		for (let t = 0.1; t < 2.9; t += 0.2) {
			const map = expm(
				a.map((v) => v * (t - 0.005)),
				order,
			);
			const flown = pushed[Math.round((3 + t) * 500)]!;
			worst = Math.max(worst, Math.abs(flown - worth * map[error * order + momentum]!));
			most = Math.max(most, Math.abs(flown));
		}
		expect(worst / most).toBeLessThan(1e-3);
	});
});

describe("the loop on a rig", () => {
	/** Growth of what a kick leaves, per second. */
	const grows = (rig: RigSpec, gainSet: GainSet, axis: AxisName, ofHover: number): boolean => {
		const torqueNm = AXES.map((each) => (each === axis ? 1e-4 : 0)) as unknown as [number, number, number];
		const columns = (push: boolean) =>
			fly({
				craft: base,
				point: NOMINAL_POINT,
				gainSet,
				drill: {
					name: "x",
					about: "",
					durationSec: 8,
					heightM: 500,
					seed: 1,
					events: [
						{ atSec: 0, kind: "throttle", throttle: 0, ofHover },
						...(push ? [{ atSec: 2, kind: "torque" as const, torqueNm, durationSec: 0.02 }] : []),
					],
					wind: STILL_AIR,
					rig,
				},
				options: { noise: false, rounding: false },
			}).trace.columns[`${axis}Rate`]!;
		const still = columns(false);
		const swing = columns(true).map((v, i) => v - still[i]!);
		const size = (from: number, to: number): number =>
			Math.max(...swing.subarray(from * 500, to * 500).map(Math.abs));
		return size(7, 8) > size(4, 5);
	};
	it.each([
		["pivot", { ...PIVOT, throughM: [0, 0, -0.06] } as PivotSpec, 1],
		["pivot at less throttle", { ...PIVOT, throughM: [0, 0, -0.06] } as PivotSpec, 0.85],
		["string", STRINGS, 0.8],
	] as const)("meets its upper limit of kp on a %s rig where the linear model says", (_, rig, ofHover) => {
		const found = rigLinear(base, NOMINAL_POINT, rig, ofHover);
		if (!found.feasible) throw new Error(found.reason);
		const set = sampleGains();
		const { margins } = axisMarginsOf(base, set, found.linear, found.linear, "roll");
		const limit = margins.felt.fastShake!;
		const raised = (share: number): GainSet => ({
			...set,
			roll: {
				...set.roll,
				outputLimit: 10,
				integralLimit: 10,
				rateLimitRadPerSec: 1e6,
				kp: set.roll.kp * limit.factor * share,
			},
		});
		expect(grows(rig, raised(0.96), "roll", ofHover)).toBe(false);
		expect(grows(rig, raised(1.04), "roll", ofHover)).toBe(true);
	});
});
