import { describe, expect, it } from "vitest";
import { personTimesCraft } from "../../src/analysis/hand-loop.ts";
import { analyseLoopFromTransferFunction } from "../../src/analysis/scalar-loop-transfer.ts";
import { PERSON, personFor } from "../../src/flight/pilot.ts";

/**
 * The crossover model: Y_p Y_c = omega_c e^(-j omega tau_e) / (j omega) near crossover, phase margin 90 deg - omega_c tau_e, and its
 * extension by e^(-j alpha / omega) (McRuer, Graham, Krendel and Reisener, AFFDL-TR-65-15, 1965; McRuer and Krendel, AGARDograph 188, 1974;
 * from memory).
 */
const DEG = 180 / Math.PI;
const TAU = PERSON.delaySec + PERSON.lagSec;
const WC = PERSON.crossoverRadPerSec;
const ALPHA = PERSON.trimPerSec;
/** A motor lag that costs 0.01 deg at crossover. */
const QUICK = 1e-4;
const marginsOf = (slope: number, dampingPerSec: number, lagSec = QUICK) => {
	const heave = { slope, dampingPerSec, lagSec };
	return analyseLoopFromTransferFunction(personTimesCraft(personFor(heave), heave, 0));
};

describe("a person against the crossover model", () => {
	it("crosses over at the same frequency whatever the craft: the person adapts", () => {
		for (const slope of [5, 25, 90])
			for (const damping of [0.001, 0.3, 1, 3])
				for (const lag of [0.01, 0.06, 0.15])
					expect(marginsOf(slope, damping, lag).crossoverRadPerSec.value).toBeCloseTo(WC, 6);
	});
	it("a craft whose damping lead can cancel: margin of the extended crossover model within 0.3 deg", () => {
		const extended = 90 - (WC * TAU + ALPHA / WC) * DEG;
		for (const damping of [0.25, 1, 3])
			expect(Math.abs(marginsOf(25, damping).phaseMarginDeg.value! - extended)).toBeLessThan(0.3);
	});
	it("a craft with no damping keeps what lead of 5 s leaves: atan(1 / (5 s omega_c)) less", () => {
		const extended = 90 - (WC * TAU + ALPHA / WC) * DEG - Math.atan(1 / (PERSON.mostLeadSec * WC)) * DEG;
		expect(Math.abs(marginsOf(25, 1e-9).phaseMarginDeg.value! - extended)).toBeLessThan(0.3);
	});
	it("motor lag takes atan(omega_c lag) more", () => {
		const without = marginsOf(25, 1).phaseMarginDeg.value!;
		for (const lag of [0.02, 0.06, 0.12])
			expect(without - marginsOf(25, 1, lag).phaseMarginDeg.value!).toBeCloseTo(
				(Math.atan(WC * lag) - Math.atan(WC * QUICK)) * DEG,
				6,
			);
	});
	it("has at least the gain margin of the model, and no more than the muscles' lag adds to it", () => {
		// omega tau + alpha/omega = pi/2
		const turn = (Math.PI / 2 + Math.sqrt((Math.PI / 2) ** 2 - 4 * TAU * ALPHA)) / (2 * TAU);
		const model = 20 * Math.log10(turn / WC);
		const lag = 20 * Math.log10(Math.hypot(1, turn * PERSON.lagSec) / Math.hypot(1, WC * PERSON.lagSec));
		const { gainMarginUpDb } = marginsOf(25, 1);
		expect(gainMarginUpDb.value!).toBeGreaterThan(model);
		// The lag also turns less than a delay of its length: that moves the crossing, and pays twice.
		expect(gainMarginUpDb.value!).toBeLessThan(model + 2 * lag);
	});
});
