import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { AxisGains, GainSet, Structure } from "../../src/control/spec.ts";
import {
	byMotorNumber,
	byRotor,
	type FirmwareCore,
	fromFirmware,
	toFirmware,
} from "../../src/handover/firmware-gains.ts";
import { defaultFirmwareUnits, type FirmwareUnits } from "../../src/handover/firmware-units.ts";
import { sampleGains } from "../fixtures/craft.ts";

const units = defaultFirmwareUnits(500);
const with_ = (change: Partial<FirmwareUnits>): FirmwareUnits => ({ ...units, ...change });
const gains: AxisGains = { ...sampleGains().roll, kp: 0.136, ki: 0.25, kd: 0.004, kff: 0.01 };
const set = sampleGains({ roll: gains });

/** kp, ki, kd of roll, or Kp, Ti, Td. */
function typed(change: Partial<FirmwareUnits>, structure: Structure = "cascade"): number[] {
	const core: FirmwareCore = toFirmware({ ...set, structure }, with_(change)).roll.core;
	return core.form === "parallel" ? [core.kp, core.ki, core.kd] : [core.kp, core.ti!, core.td];
}
function expectAll(found: readonly number[], expected: readonly number[]): void {
	found.forEach((x, i) => {
		expect(x / expected[i]!).toBeCloseTo(1, 12);
	});
}

describe("firmware gains, worked by hand", () => {
	const perDeg = Math.PI / 180;
	it("us per deg/s: 0.136 x 1000 x pi/180 = 2.3736", () => {
		expectAll(typed({}), [0.136 * 1000 * perDeg, 0.25 * 1000 * perDeg, 0.004 * 1000 * perDeg]);
		expect(typed({})[0]).toBeCloseTo(2.37364778, 7);
	});
	it("radians and fraction: the internal numbers themselves", () =>
		expectAll(typed({ angle: "rad", output: "fraction", outputFullScale: 1 }), [0.136, 0.25, 0.004]));
	it("per cent and timer counts", () => {
		expectAll(typed({ angle: "rad", output: "percent", outputFullScale: 100 }), [13.6, 25, 0.4]);
		expectAll(typed({ angle: "rad", output: "counts", outputFullScale: 2500 }), [340, 625, 10]);
	});
	it("per tick: ki x T and kd / T, T = 2 ms", () =>
		expectAll(
			typed({
				angle: "rad",
				output: "fraction",
				outputFullScale: 1,
				integral: "perTick",
				derivative: "perTick",
			}),
			[0.136, 0.0005, 2],
		));
	it("standard form: Ti = kp/ki, Td = kd/kp, in seconds or in ticks", () => {
		expectAll(typed({ form: "standard" }), [0.136 * 1000 * perDeg, 0.544, 0.004 / 0.136]);
		expectAll(typed({ form: "standard", integral: "perTick", derivative: "perTick" }), [
			0.136 * 1000 * perDeg,
			272,
			(0.004 / 0.136) * 500,
		]);
	});
	it("single angle PID: D comes from the gyro, where no tick enters", () =>
		expectAll(typed({ derivative: "perTick" }, "anglePid"), [
			0.136 * 1000 * perDeg,
			0.25 * 1000 * perDeg,
			0.004 * 1000 * perDeg,
		]));
	it("a mix table with largest entry 0.5 needs twice the gain", () =>
		expect(typed({ mixLargestEntry: [0.5, 1, 1] })[0]).toBeCloseTo(2 * 2.37364778, 6));
	it("derivative filter at 40 Hz: a = exp(-2 pi 40 / 500) = 0.604900", () => {
		const f = (derivativeFilter: FirmwareUnits["derivativeFilter"]) =>
			toFirmware(set, with_({ derivativeFilter })).roll.derivativeFilter;
		expect(f("cutoffHz")).toBe(40);
		expect(f("exp")).toBeCloseTo(0.6049, 4);
		// The code's own RC/(RC + T) of what it is told is that same a.
		const rc = 1 / (2 * Math.PI * f("rc"));
		expect(rc / (rc + 0.002)).toBeCloseTo(f("exp"), 14);
	});
	it("limits are in output and angle units", () => {
		const roll = toFirmware(set, units).roll;
		expect(roll.outputLimit).toBeCloseTo(400, 10);
		expect(roll.integralLimit).toBeCloseTo(200, 10);
		expect(roll.rateLimit).toBeCloseTo(229.183118, 6);
	});
	it("says what the standard form cannot hold, and odd units", () => {
		const noP = { ...set, roll: { ...gains, kp: 0 } };
		expect(() => toFirmware(noP, with_({ form: "standard" }))).toThrow(/kp 0 with ki 4.36/);
		expect(() => toFirmware(set, with_({ loopHz: 0 }))).toThrow(/loopHz: 0/);
	});
});

describe("there and back", () => {
	const above = (min: number, max: number) => fc.double({ min, max, noNaN: true });
	const axis = fc.record({
		kAngle: above(0.1, 20),
		kAngleI: above(0, 5),
		kp: above(0.001, 5),
		ki: above(1e-6, 10),
		kd: above(0, 0.5),
		kff: above(0, 1),
		setPointWeight: above(0, 1),
		integralLimit: above(0.01, 1),
		outputLimit: above(0.01, 1),
		rateLimitRadPerSec: above(0.1, 20),
		angleIntegralLimitRadPerSec: above(0, 5),
		derivativeCutoffHz: above(1, 200),
	});
	const anyUnits = fc.record({
		angle: fc.constantFrom("deg" as const, "rad" as const),
		integral: fc.constantFrom("perSecond" as const, "perTick" as const),
		derivative: fc.constantFrom("perSecond" as const, "perTick" as const),
		output: fc.constantFrom("us" as const, "fraction" as const, "percent" as const, "counts" as const),
		outputFullScale: above(0.5, 5000),
		form: fc.constantFrom("parallel" as const, "standard" as const),
		derivativeOn: fc.constantFrom("measurement" as const, "error" as const),
		derivativeFilter: fc.constantFrom("cutoffHz" as const, "exp" as const, "rc" as const),
		loopHz: above(200, 8000),
		mixLargestEntry: fc.tuple(above(0.1, 2), above(0.1, 2), above(0.1, 2)),
		motorNumbers: fc.constant(null),
	});
	it("returns every number to 1e-12", () => {
		fc.assert(
			fc.property(
				axis,
				axis,
				axis,
				fc.constantFrom("cascade" as const, "anglePid" as const, "rateOnly" as const),
				anyUnits,
				(roll, pitch, yaw, structure, u) => {
					const before: GainSet = { name: "B", structure, roll, pitch, yaw, filters: [] };
					const after = fromFirmware(toFirmware(before, u), u, before);
					for (const name of ["roll", "pitch", "yaw"] as const)
						for (const key of Object.keys(before[name]) as (keyof AxisGains)[])
							expect(Math.abs(after[name][key] - before[name][key])).toBeLessThanOrEqual(
								1e-12 * Math.max(Math.abs(before[name][key]), 1e-3),
							);
				},
			),
		);
	});
});

describe("motor numbers", () => {
	it("reorder a row per rotor there and back", () => {
		const numbers = [4, 1, 7, 2];
		expect(byMotorNumber(["a", "b", "c", "d"], numbers)).toEqual(["b", "d", "a", "c"]);
		expect(byRotor(byMotorNumber(["a", "b", "c", "d"], numbers), numbers)).toEqual(["a", "b", "c", "d"]);
		expect(() => byMotorNumber(["a", "b"], [1, 1])).toThrow(/1, 1/);
	});
});
