import { describe, expect, it } from "vitest";
import type { Craft } from "../../src/craft/model.ts";
import { ODD_RULES, oddValues } from "../../src/craft/odd-values.ts";
import { sampleCraft } from "../fixtures/craft.ts";

const base = sampleCraft();
const set = <K extends keyof Craft>(key: K, change: Partial<Craft[K]>): Craft => ({
	...base,
	[key]: { ...(base[key] as object), ...change },
});

/** One example for each rule of the table, in its order, and what its sentence says. */
const EXAMPLES: readonly (readonly [Craft, RegExp])[] = [
	[set("bare", { massKg: 1900 }), /1900 kg is outside the 0.05 to 25 kg.*grams written as kilograms/],
	[
		{
			...base,
			rotors: base.rotors.map((r) => ({
				...r,
				positionM: [r.positionM[0] * 1000, r.positionM[1] * 1000, 0] as const,
			})),
		},
		/520 m apart; millimetres written as metres/,
	],
	[set("bare", { massKg: 3.5 }), /full thrust is 1\.22 times the weight/],
	[set("propulsion", { radiusM: 0.3 }), /thrust coefficient CT is 0\.0047 /],
	[set("propulsion", { torqueCoefficient: 3.36e-6 }), /figure of merit is 0\.06\d*;/],
	[set("propulsion", { tauUpSec: 0.5, tauDownSec: 0.6 }), /motor lag of 0\.5 s/],
	[set("propulsion", { tauDownSec: 0.22 }), /slowing down takes 4 times/],
	[set("propulsion", { rotorInertiaKgM2: 1e-3 }), /rotor's inertia is 1\.07 m D\^2/],
	[set("bare", { inertiaKgM2: [0.1, 0, 0, 0, 0.025, 0, 0, 0, 0.11] }), /roll inertia is 0\.779 of/],
	[set("bare", { inertiaKgM2: [0.022, 0, 0, 0, 0.1, 0, 0, 0, 0.11] }), /pitch inertia is 0\.779 of/],
	[set("bare", { inertiaKgM2: [0.022, 0, 0, 0, 0.025, 0, 0, 0, 0.015] }), /yaw inertia is 0\.117 of/],
	[set("bare", { centreOfMassM: [0.05, 0, 0] }), /off the reference point/],
	[set("load", { massKg: 3 }), /load is 1\.58 times/],
	[set("load", { positionM: [0, 0, 0.8] }), /load sits 3\.08 hub radii/],
	[set("battery", { openCircuitV: [13, 14, 15, 16, 4.9] }), /4\.9 V per 4\.2 V cell/],
	[set("battery", { resistanceOhm: 25 }), /resistance of 25 ohm.*milliohms written as ohms/],
	[set("battery", { capacityAmpereHours: 5200 }), /holds 5200 Ah; mAh/],
	[set("battery", { efficiency: 0.2 }), /efficiency of 0\.2/],
	[set("timing", { control: { periodUs: 50000, jitterUs: 0, skipChance: 0 } }), /takes 50000 us per tick/],
	[
		set("timing", { control: { periodUs: 2000, jitterUs: 900, skipChance: 0 } }),
		/jitter is 0\.45 of its period/,
	],
	[set("timing", { computeUs: 1800 }), /computing takes 0\.9 of the tick/],
	[set("timing", { gyro: { periodUs: 4000, phaseUs: 0 } }), /gyro's period is 2 loop periods/],
	[set("timing", { gyroBusUs: 3000 }), /reading the gyro takes 1\.5 loop periods/],
	[
		set("timing", { attitude: { kind: "fused", clock: { periodUs: 10000, phaseUs: 0 }, latencyUs: 80000 } }),
		/angles arrive 0\.08 s late/,
	],
	[set("timing", { escFrame: { periodUs: 20000, phaseUs: 0 } }), /one in 10 ticks/],
	[set("timing", { escFrame: { periodUs: 1000, phaseUs: 0 } }), /longest pulse is 2 of the frame/],
	[set("sensors", { gyroLowPassHz: 3 }), /low-pass at 3 Hz/],
	[set("sensors", { vibrationRadPerSec: 2 }), /shakes the gyro by 2 rad\/s/],
	[set("sensors", { levelOffsetRad: [0.2, 0] }), /level is off by 0\.2 rad/],
	[set("mixer", { lowestSpin: 0.4 }), /lowest spin is 0\.4 of full/],
	[
		set("mixer", { lowestSpin: 0.03 }),
		/lowest spin, 0\.03 of full command, lies below 0\.05.*motors may stop in flight/,
	],
	[set("sticks", { fullTiltRad: 1.3 }), /asks for 1\.3 rad of tilt/],
	[set("air", { densityKgM3: 0.5 }), /air of 0\.5 kg\/m\^3/],
	[set("airframe", { dragAreaM2: [0.5, 0.02, 0.04] }), /drag area is 1\.85 of the wheelbase squared/],
	[set("uncertainty", { inertia: 0.6 }), /plus or minus 0\.6 only/],
	[{ ...base, rotors: base.rotors.map((r) => ({ ...r, spin: 1 as const })) }, /4 rotors spin 4 more one way/],
	[
		{
			...base,
			rotors: base.rotors.map((r) => ({
				...r,
				positionM: [r.positionM[0] / 2, r.positionM[1] / 2, 0] as const,
			})),
		},
		/front right and rear right are 0\.184 m apart but the propellers need 0\.279 m/,
	],
];

describe("odd values", () => {
	it("says nothing of an ordinary craft", () => {
		expect(oddValues(base)).toEqual([]);
	});

	it("has one example for each rule", () => {
		expect(EXAMPLES).toHaveLength(ODD_RULES.length);
	});

	it.each(EXAMPLES.map(([craft, sentence], i) => [ODD_RULES[i]!.path, sentence, craft, i] as const))(
		"%s: %s",
		(_, sentence, craft, i) => {
			const said = ODD_RULES[i]!.judge(craft);
			expect(said).toMatch(sentence);
			expect(said).toMatch(/\d/);
			expect(oddValues(craft).map((odd) => odd.sentence)).toContain(said);
		},
	);
});
