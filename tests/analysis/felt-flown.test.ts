import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { feltOnAxis } from "../../src/analysis/axis-margins.ts";
import { AXES, type AxisName, type GainSet } from "../../src/control/spec.ts";
import { type Craft, NOMINAL_POINT } from "../../src/craft/model.ts";
import { type DrillEvent, STILL_AIR } from "../../src/flight/drill.ts";
import { fly } from "../../src/flight/engine.ts";
import type { Vec3 } from "../../src/math/types.ts";
import { loadScenario } from "../../src/scenario/load.ts";

function shipped(name: string) {
	const loaded = loadScenario(readFileSync(new URL(`../../scenarios/${name}.json`, import.meta.url), "utf8"));
	if (!loaded.ok) throw new Error(loaded.errors[0]!.message);
	return loaded.scenario;
}

/** Frequency of the swing that a small kick leaves, from upward zero crossings of the rate over the flight without the kick. */
function flownHz(craft: Craft, gainSet: GainSet, axis: AxisName, near: number): number {
	const torque: Vec3 = AXES.map((each) =>
		each === axis ? 1e-4 * (craft.bare.inertiaKgM2[0] / 0.02) : 0,
	) as unknown as Vec3;
	const rate = (events: readonly DrillEvent[]): Float64Array =>
		fly({
			craft,
			point: NOMINAL_POINT,
			gainSet,
			drill: {
				name: "",
				about: "",
				durationSec: Math.max(3, 14 / near),
				heightM: 500,
				seed: 1,
				events,
				wind: STILL_AIR,
			},
			options: { noise: false, rounding: false, recordPeriodUs: 1000 },
		}).trace.columns[`${axis}Rate`]!;
	const still = rate([]);
	const swing = rate([{ atSec: 0.1, kind: "torque", torqueNm: torque, durationSec: 0.02 }]).map(
		(v, i) => v - still[i]!,
	);
	const ups: number[] = [];
	for (let i = 200; i < swing.length; i++)
		if (swing[i - 1]! < 0 && swing[i]! >= 0) ups.push(i - 1 - swing[i - 1]! / (swing[i]! - swing[i - 1]!));
	const from = Math.floor(0.3 * ups.length);
	return (1000 * (ups.length - 1 - from)) / (ups.at(-1)! - ups[from]!);
}

/** The set with one gain raised to the limit that was announced and a little more; its limits out of the way. */
function raised(set: GainSet, axis: AxisName, gain: "kp" | "ki" | "kd" | "kAngle", factor: number): GainSet {
	const wide = { outputLimit: 10, integralLimit: 10, rateLimitRadPerSec: 1e6 };
	return { ...set, [axis]: { ...set[axis], ...wide, [gain]: set[axis][gain] * factor } };
}

describe.each([
	["sandpiper", 0],
	["sandpiper", 1],
	["wren", 0],
	["published-luukkonen-2011", 0],
] as const)("felt frequencies of %s, set %i, in the full simulator", (name, k) => {
	const { craft, gainSets } = shipped(name);
	const set = gainSets[k]!;
	it.each(["roll", "pitch"] as const)(
		"%s shakes and wallows where margins says, within 5 per cent",
		(axis) => {
			const found = feltOnAxis(craft, set, NOMINAL_POINT, axis);
			if (!found.feasible) throw new Error(found.reason);
			const { fastShake, slowWallow } = found.felt;
			for (const limit of [fastShake!, slowWallow!]) {
				const hz = flownHz(craft, raised(set, axis, limit.gain, 1.02 * limit.factor), axis, limit.hz);
				expect(Math.abs(hz / limit.hz - 1), `${limit.gain} ${limit.hz} Hz`).toBeLessThan(0.05);
			}
		},
	);
});
