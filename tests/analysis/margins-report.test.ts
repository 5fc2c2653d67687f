import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { axisLoops } from "../../src/analysis/axis-loops.ts";
import { axisPlants } from "../../src/analysis/axis-plants.ts";
import { liftedLoop, UNCHANGED } from "../../src/analysis/lifted.ts";
import { linearise } from "../../src/analysis/linearise.ts";
import { marginsReport } from "../../src/analysis/margins-report.ts";
import type { MarginsReport } from "../../src/analysis/report-types.ts";
import { timingChain } from "../../src/analysis/timing-chain.ts";
import { AXES, type AxisGains, type FixedGainSet, type GainSet } from "../../src/control/spec.ts";
import { type Craft, NOMINAL_POINT, type OperatingPoint } from "../../src/craft/model.ts";
import { createFlight } from "../../src/flight/engine.ts";
import { eigenvalues } from "../../src/math/eigenvalues.ts";
import { loadScenario } from "../../src/scenario/load.ts";
import { skewedCraft, unequalCraft } from "../fixtures/clocks.ts";
import { sampleCraft, sampleGains } from "../fixtures/craft.ts";

/** What is felt goes by the mean of a motor's two lags. */
const FELT_POINT: OperatingPoint = { ...NOMINAL_POINT, motorLag: "mean" };

function report(craft: Craft, set: GainSet, point: OperatingPoint = NOMINAL_POINT): MarginsReport {
	const found = marginsReport(craft, set, point);
	if (!found.feasible) throw new Error(found.reason);
	return found.report;
}

/** Gains nearer their limits than the sample's. */
function livelyGains(): FixedGainSet {
	const gains = sampleGains();
	const more = (g: AxisGains): AxisGains => ({ ...g, kp: g.kp * 2, ki: 0.5, kd: g.kd * 2 });
	return { ...gains, roll: more(gains.roll), pitch: more(gains.pitch) };
}

const equal = report(sampleCraft(), livelyGains());
const unequal = report(unequalCraft(), livelyGains());
const shipped = loadScenario(
	readFileSync(new URL("../../scenarios/sandpiper.json", import.meta.url), "utf8"),
);
if (!shipped.ok) throw new Error(JSON.stringify(shipped.errors));
const demo = report(shipped.scenario.craft, shipped.scenario.gainSets[0]!);

describe("margins of a craft", () => {
	it("equal clocks: the frequency and the lifted route agree to 1e-3 dB and 1e-3 ms on every opening", () => {
		let compared = 0;
		for (const axis of AXES)
			for (const name of ["rateLoop", "angleLoop", "wholeAxis"] as const) {
				const loop = equal.periodic.axes[axis][name];
				if (!loop) continue;
				const { gainMarginUpDb: up, gainMarginDownDb: down, delayMarginSec: delay } = loop.difference;
				for (const db of [up, down])
					if (db !== null) {
						expect(Math.abs(db)).toBeLessThan(1e-3);
						compared++;
					}
				if (delay !== null) {
					expect(Math.abs(delay)).toBeLessThan(1e-6);
					compared++;
				}
			}
		expect(compared).toBeGreaterThanOrEqual(12);
		expect(equal.periodic.equalClocks).toBe(true);
	});

	it("by their definition: at a margin's frequency the loop, so changed, is at -1", () => {
		const plant = axisPlants(sampleCraft(), NOMINAL_POINT).roll;
		const loops = axisLoops(plant, livelyGains());
		const out = new Float64Array(2);
		for (const [name, loop] of [
			["rateLoop", loops.rate!],
			["angleLoop", loops.angle!],
			["wholeAxis", loops.whole!],
		] as const) {
			const { gainMarginUpDb: up, phaseMarginDeg: phase, delayMarginSec: delay } = equal.axes.roll[name]!;
			loop(up.radPerSec!, out);
			const k = 10 ** (up.value! / 20);
			expect(k * out[0]!).toBeCloseTo(-1, 6);
			expect(k * out[1]!).toBeCloseTo(0, 6);
			loop(phase.radPerSec!, out);
			expect(Math.hypot(out[0]!, out[1]!)).toBeCloseTo(1, 6);
			expect(Math.abs(Math.atan2(-out[1]!, -out[0]!) * (180 / Math.PI))).toBeCloseTo(phase.value!, 5);
			loop(delay.radPerSec!, out);
			const turn = -delay.value! * delay.radPerSec!;
			expect(out[0]! * Math.cos(turn) - out[1]! * Math.sin(turn)).toBeCloseTo(-1, 6);
		}
	});

	it("the phase ledger adds up to the loop's phase, and sampling images are small", () => {
		for (const [craft, found] of [
			[sampleCraft(), equal],
			[unequalCraft(), unequal],
		] as const)
			for (const axis of AXES) {
				const { phaseLedger, ledgerRadPerSec } = found.axes[axis];
				const loop = axisLoops(axisPlants(craft, NOMINAL_POINT)[axis], livelyGains()).rate!;
				const out = new Float64Array(2);
				loop(ledgerRadPerSec!, out);
				const phase = Math.atan2(out[1]!, out[0]!) * (180 / Math.PI);
				const sum = phaseLedger.reduce((total, entry) => total + entry.degrees, 0);
				expect(Math.abs(((((sum - phase) % 360) + 540) % 360) - 180)).toBeLessThan(1e-9);
				expect(Math.abs(phaseLedger.at(-1)!.degrees)).toBeLessThan(0.05);
				const frame = phaseLedger.find((e) => e.element.startsWith("waiting for the speed"))!;
				// Frames of 2.04 ms behind a 2 ms loop: waits of 0, 0.04 .. 1.96 ms, and half of the 0.04 ms longer hold.
				expect(frame.delaySec).toBeCloseTo(craft.timing.escFrame.periodUs === 2040 ? 0.001 : 0, 9);
			}
	});

	it("felt frequencies: the gain raised that far is on the edge, at that frequency", () => {
		const { felt } = equal.axes.roll;
		expect(felt.sentence).toMatch(/^fast shake near [\d.]+ Hz: lower kp; slow wallow near [\d.]+ Hz: lower/);
		for (const { gain, factor } of felt.limits) {
			const at = (f: number): boolean => {
				const set = livelyGains();
				const raised = { ...set, roll: { ...set.roll, [gain]: set.roll[gain] * f } };
				return report(sampleCraft(), raised, FELT_POINT).periodic.axes.roll.stable;
			};
			if (gain !== "kp") continue;
			expect(at(factor * 0.999)).toBe(true);
			expect(at(factor * 1.001)).toBe(false);
		}
		expect(felt.limits.map((l) => l.gain)).toEqual(["kp", "ki", "kd", "kAngle"]);
	});

	it("felt frequencies of every gain: the lifted map is stable at 0.99 of the factor, not at 1.01, and turns at that frequency", () => {
		const found = linearise(sampleCraft(), FELT_POINT);
		if (!found.feasible) throw new Error(found.reason);
		const chain = timingChain(sampleCraft().timing);
		for (const axis of [0, 1] as const) {
			const name = axis === 0 ? "roll" : "pitch";
			const { limits } = equal.axes[name].felt;
			expect(limits.map((l) => l.gain)).toEqual(["kp", "ki", "kd", "kAngle"]);
			for (const { gain, factor, hz } of limits) {
				const loop = (share: number) => {
					const set = livelyGains();
					const own = { ...set[name], [gain]: set[name][gain] * factor * share };
					return liftedLoop(found.linear, chain, { ...set, [name]: own }, [axis], [], false);
				};
				expect(loop(0.99).radius([UNCHANGED])).toBeLessThan(1);
				expect(loop(1.01).radius([UNCHANGED])).toBeGreaterThan(1);
				const { map, size } = loop(1).map([UNCHANGED]);
				const { re, im } = eigenvalues(map, size);
				// A state that keeps its value is no part of the loop.
				const radii = Array.from(re, (r, i) =>
					Math.hypot(r - 1, im[i]!) < 1e-9 ? 0 : Math.hypot(r, im[i]!),
				);
				const edge = radii.indexOf(Math.max(...radii));
				expect(radii[edge]).toBeCloseTo(1, 5);
				const turned =
					Math.abs(Math.atan2(im[edge]!, re[edge]!)) / (2 * Math.PI * 1e-6 * chain.hyperperiodUs);
				expect(Math.abs(turned / hz - 1)).toBeLessThan(0.01);
			}
		}
	});

	it("mean ages: what the phase may still turn at the edge is within 0.5 degrees of the periodic answer, every opening", () => {
		// A loop's phase margin by its definition, at the delay margin's frequency: that delay times that frequency.
		let compared = 0;
		for (const found of [unequal, demo])
			for (const axis of AXES)
				for (const name of ["rateLoop", "angleLoop", "wholeAxis"] as const) {
					const delay = found.axes[axis][name]?.delayMarginSec;
					const difference = found.periodic.axes[axis][name]?.difference.delayMarginSec;
					if (!delay?.radPerSec || difference === null || difference === undefined) continue;
					expect(difference).not.toBe(0);
					expect(Math.abs(difference * delay.radPerSec * (180 / Math.PI))).toBeLessThan(0.5);
					compared++;
				}
		expect(compared).toBeGreaterThanOrEqual(8);
	});

	it("axes that act on each other are closed together; the disk margin is no larger than any axis alone", () => {
		const set = livelyGains();
		const found = report({ ...skewedCraft() }, set);
		expect(found.notes.join()).toContain("axes act on each other");
		for (const axis of AXES) {
			const { alpha } = found.disk;
			const ms = (found.axes[axis].wholeAxis ?? found.axes[axis].rateLoop).ms.value!;
			// alpha <= 2/(Ms - 1/2 ...): |S - 1/2| is at least Ms - 1/2 where |S| peaks.
			expect(alpha!).toBeLessThanOrEqual(1 / (ms - 0.5) + 1e-6);
		}
		const own = report(sampleCraft(), set);
		expect(
			Math.abs(
				found.axes.roll.wholeAxis!.gainMarginUpDb.value! - own.axes.roll.wholeAxis!.gainMarginUpDb.value!,
			),
		).toBeGreaterThan(0.1);
		expect(Math.abs(found.periodic.axes.roll.wholeAxis!.difference.gainMarginUpDb!)).toBeLessThan(5e-3);
	}, 20_000);

	it("structures: rate-only has no angle loop and a slow mode; a single angle PID has a gyro path, ledger and all", () => {
		const gains = livelyGains();
		const rateOnly = report(sampleCraft(), { ...gains, structure: "rateOnly" });
		expect(rateOnly.axes.roll.angleLoop).toBeNull();
		expect(rateOnly.axes.roll.why["angleLoop"]).toContain("rate-only");
		expect(rateOnly.slowMode!.sentence).toMatch(/without an angle loop (roll|pitch) (swings|drifts)/);
		const angle = { ...gains.roll, kp: 0.4, ki: 0.2, kd: 0.1 };
		const single = report(sampleCraft(), { ...gains, structure: "anglePid", roll: angle, pitch: angle });
		expect(single.axes.roll.wholeAxis!.stable).toBe(true);
		expect(Math.abs(single.periodic.axes.roll.wholeAxis!.difference.gainMarginUpDb!)).toBeLessThan(1e-3);
		expect(single.axes.roll.phaseLedger[0]!.element).toContain("attitude");
	});

	it("unstable gains: margins are undefined with their reason, not numbers", () => {
		const gains = sampleGains();
		const { wholeAxis } = report(sampleCraft(), { ...gains, roll: { ...gains.roll, kp: 5 } }).axes.roll;
		expect(wholeAxis!.stable).toBe(false);
		expect(wholeAxis!.gainMarginUpDb).toMatchObject({ value: null, verdict: "undefined" });
		expect(wholeAxis!.why).toContain("grows by a factor");
	});
});

describe("the full simulator at 0.95 and 1.05 of the gain margin", () => {
	/** Largest |roll rate| in each of 20 critical periods after a small kick. */
	function envelope(craft: Craft, set: FixedGainSet, periodSec: number): number[] {
		const flight = createFlight({
			craft,
			point: NOMINAL_POINT,
			gainSet: set,
			drill: {
				name: "kick",
				about: "",
				durationSec: 0.1 + 21 * periodSec,
				heightM: 50,
				seed: 1,
				events: [{ atSec: 0.05, kind: "torque", torqueNm: [1e-6, 0, 0], durationSec: 0.02 }],
				wind: { meanMPerSec: [0, 0, 0], roughnessM: null, gusts: [], turbulence: null },
			},
			options: { noise: false, rounding: false },
		});
		flight.advanceTo(Math.round((0.1 + 21 * periodSec) * 1e6));
		const { time, rollRate } = flight.result().trace.columns as {
			time: Float64Array;
			rollRate: Float64Array;
		};
		const peaks = new Array<number>(20).fill(0);
		time.forEach((t, i) => {
			const k = Math.floor((t - 0.1) / periodSec);
			if (k >= 0 && k < 20) peaks[k] = Math.max(peaks[k]!, Math.abs(rollRate[i]!));
		});
		return peaks;
	}

	it.each([
		["equal clocks", sampleCraft(), equal],
		["unequal clocks", unequalCraft(), unequal],
	] as const)("%s", (_, craft, found) => {
		const oneLag = { ...craft, propulsion: { ...craft.propulsion, tauUpSec: 0.075, tauDownSec: 0.075 } };
		const margin = found.periodic.axes.roll.wholeAxis!.gainMarginUpDb;
		const k = 10 ** (margin.value! / 20);
		const set = livelyGains();
		const at = (f: number): number[] => {
			const g = set.roll;
			const roll = { ...g, kp: g.kp * k * f, ki: g.ki * k * f, kd: g.kd * k * f };
			return envelope(oneLag, { ...set, roll }, (2 * Math.PI) / margin.radPerSec!);
		};
		const calm = at(0.95);
		const wild = at(1.05);
		expect(calm[19]!).toBeLessThan(0.5 * calm[1]!);
		expect(wild[19]!).toBeGreaterThan(2 * wild[1]!);
	});
});
