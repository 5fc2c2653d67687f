import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { hyperperiodCheck } from "../../src/analysis/hyperperiod-check.ts";
import { liftedLoop, UNCHANGED } from "../../src/analysis/lifted.ts";
import { linearise } from "../../src/analysis/linearise.ts";
import { marginsReport } from "../../src/analysis/margins-report.ts";
import type { MarginsReport } from "../../src/analysis/report-types.ts";
import { timingChain } from "../../src/analysis/timing-chain.ts";
import { fixedSet } from "../../src/control/schedule.ts";
import type { AxisGains, FixedGainSet } from "../../src/control/spec.ts";
import { type Craft, NOMINAL_POINT } from "../../src/craft/model.ts";
import { loadScenario } from "../../src/scenario/load.ts";
import { skewedCraft, unequalCraft } from "../fixtures/clocks.ts";
import { sampleCraft, sampleGains } from "../fixtures/craft.ts";

const times = (gains: AxisGains, k: number): AxisGains => ({
	...gains,
	kp: gains.kp * k,
	ki: gains.ki * k,
	kd: gains.kd * k,
});

function lifted(craft: Craft, set: FixedGainSet): number {
	const found = linearise(craft, NOMINAL_POINT);
	if (!found.feasible) throw new Error(found.reason);
	return liftedLoop(found.linear, timingChain(craft.timing), set, [0, 1, 2], [], true).radius([
		UNCHANGED,
		UNCHANGED,
		UNCHANGED,
	]);
}

function report(craft: Craft, set: FixedGainSet): MarginsReport {
	const found = marginsReport(craft, set, NOMINAL_POINT);
	if (!found.feasible) throw new Error(found.reason);
	return found.report;
}

/** A pulse or frame so much longer: one way to add a delay that every axis feels, in whole microseconds. */
function delayed(craft: Craft, us: number): Craft {
	const { pulse } = craft.timing;
	if (pulse.kind !== "width") throw new Error("expected a pulse");
	return {
		...craft,
		timing: {
			...craft.timing,
			pulse: { ...pulse, shortestUs: pulse.shortestUs + us, longestUs: pulse.longestUs + us },
		},
	};
}

describe("the flight's own map against the linear analysis", () => {
	it("equal clocks: same growth, stable and unstable, gains and couplings of every kind", () => {
		const gains = sampleGains();
		for (const [craft, set] of [
			[sampleCraft(), gains],
			[sampleCraft(), { ...gains, roll: times(gains.roll, 20) }],
			[skewedCraft(), gains],
			[
				sampleCraft(),
				{
					...gains,
					filters: [{ kind: "lowPass2", cutoffHz: 60, damping: 0.7 }],
					pitch: { ...times(gains.pitch, 12), kAngleI: 0.5 },
				} satisfies FixedGainSet,
			],
		] as const) {
			const check = hyperperiodCheck(craft, set, NOMINAL_POINT);
			const growth = Math.log(check.radius) / check.hyperperiodSec;
			expect(Math.log(lifted(craft, set)) / check.hyperperiodSec).toBeCloseTo(growth, 3);
		}
	});

	it("equal clocks: gain margins of the whole axis within 1e-3 dB", () => {
		const craft = sampleCraft();
		const set = sampleGains();
		const margins = report(craft, set);
		for (const axis of ["roll", "pitch"] as const) {
			const db = margins.axes[axis].wholeAxis!.gainMarginUpDb.value!;
			const at = (extra: number) =>
				hyperperiodCheck(
					craft,
					{ ...set, [axis]: times(set[axis], 10 ** ((db + extra) / 20)) },
					NOMINAL_POINT,
				).radius;
			expect(at(-1e-3)).toBeLessThan(1);
			expect(at(1e-3)).toBeGreaterThan(1);
		}
	});

	it("equal clocks: delay margin of the whole axis to the microsecond", () => {
		// Pitch alone nears its edge: roll's gains are small.
		const craft = sampleCraft();
		const gains = sampleGains();
		const set = { ...gains, roll: times(gains.roll, 0.3), yaw: times(gains.yaw, 0.2) };
		const ms = 1000 * report(craft, set).axes.pitch.wholeAxis!.delayMarginSec.value!;
		const at = (us: number) => hyperperiodCheck(delayed(craft, us), set, NOMINAL_POINT).radius;
		expect(at(Math.floor(1000 * ms))).toBeLessThan(1);
		expect(at(Math.floor(1000 * ms) + 1)).toBeGreaterThan(1);
	});

	it("unequal clocks: same growth over the hyperperiod", () => {
		const craft = unequalCraft({
			gyroBusUs: 300,
			computeUs: 400,
			escFrame: { periodUs: 2040, phaseUs: 100 },
			gyro: { periodUs: 1000, phaseUs: 50 },
		});
		const set = sampleGains();
		const check = hyperperiodCheck(craft, set, NOMINAL_POINT);
		expect(Math.log(lifted(craft, set))).toBeCloseTo(Math.log(check.radius), 5);
		expect(check.verdict).toBe("stable");
	});

	it("unequal clocks: the flight crosses within 0.01 dB of the lifted margin, the mean-age rule is within 0.1 dB", () => {
		const craft = unequalCraft();
		const set = sampleGains();
		const margins = report(craft, set);
		const { gainMarginUpDb, difference } = margins.periodic.axes.roll.wholeAxis!;
		const at = (db: number) =>
			hyperperiodCheck(craft, { ...set, roll: times(set.roll, 10 ** (db / 20)) }, NOMINAL_POINT).radius;
		expect(at(gainMarginUpDb.value! - 0.01)).toBeLessThan(1);
		expect(at(gainMarginUpDb.value! + 0.01)).toBeGreaterThan(1);
		for (const axis of ["roll", "pitch", "yaw"] as const)
			for (const loop of ["rateLoop", "angleLoop", "wholeAxis"] as const) {
				const d = margins.periodic.axes[axis][loop]?.difference;
				if (d?.gainMarginUpDb != null) expect(Math.abs(d.gainMarginUpDb)).toBeLessThan(0.1);
				if (d?.gainMarginDownDb != null) expect(Math.abs(d.gainMarginDownDb)).toBeLessThan(0.1);
			}
		expect(difference.gainMarginUpDb).not.toBe(0);
	});

	it("where the critical frequency meets the clocks' own beat, the flight leaves at the lifted margin, 0.1 dB before the mean-age one", () => {
		const loaded = loadScenario(
			readFileSync(new URL("../../scenarios/sandpiper.json", import.meta.url), "utf8"),
		);
		if (!loaded.ok) throw new Error(JSON.stringify(loaded.errors));
		const { craft, gainSets } = loaded.scenario;
		const set = fixedSet(gainSets[0]!, 0, 0);
		const margins = report(craft, set);
		const lifted = margins.periodic.axes.pitch.rateLoop.gainMarginUpDb.value!;
		const meanAge = margins.axes.pitch.rateLoop.gainMarginUpDb;
		// Half a whole number of turns over one hyperperiod, within a tenth of one: the pair of eigenvalues meets on the real axis.
		const halfTurns = (meanAge.radPerSec! * margins.periodic.hyperperiodSec) / Math.PI;
		expect(Math.abs(halfTurns - Math.round(halfTurns))).toBeLessThan(0.1);
		expect(meanAge.value! - lifted).toBeGreaterThan(0.1);
		const at = (db: number) => {
			const pitch = times({ ...set.pitch, kAngle: 0, kAngleI: 0 }, 10 ** (db / 20));
			return hyperperiodCheck(craft, { ...set, pitch }, NOMINAL_POINT).verdict;
		};
		expect(at(lifted - 0.02)).not.toBe("unstable");
		expect(at(lifted + 0.02)).toBe("unstable");
	});
});
