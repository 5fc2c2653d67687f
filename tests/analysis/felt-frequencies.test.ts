import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { feltOnAxis } from "../../src/analysis/axis-margins.ts";
import type { FeltLimit } from "../../src/analysis/report-types.ts";
import { timingChain } from "../../src/analysis/timing-chain.ts";
import { AXES, type AxisName, type GainSet } from "../../src/control/spec.ts";
import { type Craft, NOMINAL_POINT } from "../../src/craft/model.ts";
import { STILL_AIR } from "../../src/flight/drill.ts";
import { fly } from "../../src/flight/engine.ts";
import type { Vec3 } from "../../src/math/types.ts";
import { loadScenario } from "../../src/scenario/load.ts";

/** A shipped craft whose clocks of unknown phase stand where the analysis takes them: at their worst. A flight without noise starts them at 0. */
function pinned(name: string): { craft: Craft; gainSets: readonly GainSet[] } {
	const loaded = loadScenario(readFileSync(new URL(`../../scenarios/${name}.json`, import.meta.url), "utf8"));
	if (!loaded.ok) throw new Error(loaded.errors[0]!.message);
	const { craft, gainSets } = loaded.scenario;
	const { timing } = craft;
	const chain = timingChain(timing);
	const { attitude } = timing;
	return {
		gainSets,
		craft: {
			...craft,
			timing: {
				...timing,
				gyro: { ...timing.gyro, phaseUs: chain.gyro.phaseUs },
				escFrame: { ...timing.escFrame, phaseUs: chain.frame.phaseUs },
				attitude:
					attitude.kind === "fused"
						? { ...attitude, clock: { ...attitude.clock, phaseUs: chain.attitude.phaseUs } }
						: attitude,
			},
		},
	};
}

/** What a small kick leaves with one gain at `share` of its announced limit: frequency from upward zero crossings, and whether it grows or dies out. */
function swing(craft: Craft, set: GainSet, axis: AxisName, { gain, factor, hz }: FeltLimit, share: number) {
	const wide = { outputLimit: 10, integralLimit: 10, rateLimitRadPerSec: 1e6 };
	const gainSet = { ...set, [axis]: { ...set[axis], ...wide, [gain]: set[axis][gain] * factor * share } };
	const torqueNm = AXES.map((each) =>
		each === axis ? 1e-4 * (craft.bare.inertiaKgM2[0] / 0.02) : 0,
	) as unknown as Vec3;
	const rate = (kicked: boolean): Float64Array =>
		fly({
			craft,
			point: NOMINAL_POINT,
			gainSet,
			drill: {
				name: "",
				about: "",
				durationSec: Math.max(2.5, 16 / hz),
				heightM: 500,
				seed: 1,
				events: kicked ? [{ atSec: 0.1, kind: "torque", torqueNm, durationSec: 0.02 }] : [],
				wind: STILL_AIR,
			},
			options: { noise: false, rounding: false, recordPeriodUs: 1000 },
		}).trace.columns[`${axis}Rate`]!;
	const still = rate(false);
	const left = rate(true).map((v, i) => v - still[i]!);
	const from = Math.floor(0.4 * left.length);
	const ups: number[] = [];
	for (let i = from; i < left.length; i++)
		if (left[i - 1]! < 0 && left[i]! >= 0) ups.push(i - 1 - left[i - 1]! / (left[i]! - left[i - 1]!));
	const size = (a: number, b: number): number =>
		Math.max(...left.subarray(Math.floor(a * left.length), Math.floor(b * left.length)).map(Math.abs));
	return {
		hz: (1000 * (ups.length - 1)) / (ups.at(-1)! - ups[0]!),
		grows: size(0.7, 1) > size(0.4, 0.7),
		diesOut: size(0.7, 1) < size(0.05, 0.3),
	};
}

describe.each([
	["sandpiper", 0],
	["sandpiper", 1],
	["wren", 0],
	["heron", 1],
	["published-bouabdallah-2007", 0],
	["published-luukkonen-2011", 0],
] as const)("%s, set %i, with every clock where the analysis has it", (name, k) => {
	const { craft, gainSets } = pinned(name);
	const set = gainSets[k]!;
	it.each(["roll", "yaw"] as const)(
		"%s: what grows beyond a limit has the announced frequency within 5 per cent, below it the kick dies out",
		(axis) => {
			const found = feltOnAxis(craft, set, NOMINAL_POINT, axis);
			if (!found.feasible) throw new Error(found.reason);
			const { fastShake, slowWallow } = found.felt;
			for (const limit of [fastShake!, slowWallow!]) {
				const beyond = swing(craft, set, axis, limit, 1.05);
				expect(beyond.grows, `${limit.gain} times ${limit.factor} grows`).toBe(true);
				expect(Math.abs(beyond.hz / limit.hz - 1), `${limit.gain}: ${limit.hz} Hz`).toBeLessThan(0.05);
			}
			expect(swing(craft, set, axis, fastShake!, 0.95).diesOut).toBe(true);
		},
	);
});
