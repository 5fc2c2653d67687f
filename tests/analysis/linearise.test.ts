import { describe, expect, it } from "vitest";
import { axisStates, type LinearCraft, linearise, OUTPUT } from "../../src/analysis/linearise.ts";
import { NOMINAL_POINT } from "../../src/craft/model.ts";
import { skewedCraft } from "../fixtures/clocks.ts";
import { sampleCraft } from "../fixtures/craft.ts";

function linear(craft = sampleCraft(), point = NOMINAL_POINT): LinearCraft {
	const found = linearise(craft, point);
	if (!found.feasible) throw new Error(found.reason);
	return found.linear;
}

const entry = (l: LinearCraft, row: string, column: string): number =>
	l.a[l.names.indexOf(row) * l.order + l.names.indexOf(column)]!;

describe("linear craft", () => {
	const craft = sampleCraft();
	const l = linear(craft);
	const {
		thrustCoefficient: kT,
		torqueCoefficient: kQ,
		inflowCoefficient: kI,
		inPlaneDragCoefficient: cH,
	} = craft.propulsion;
	const w = l.trim.speedsRadPerSec[0]!;
	const arm = 0.26 / Math.SQRT2;
	/** Steady speed per unit of command at trim voltage. */
	const slope = ((745 - 90) / 0.95) * (l.trim.voltageV / 14.8);

	it("roll: torque per u, damping by inflow and in-plane drag, tilt to sideways acceleration, by hand", () => {
		expect(entry(l, "rollMomentum", "rollRotors")).toBeCloseTo((4 * arm * 2 * kT * w * slope) / 0.022, 5);
		const damping = -(4 * w * (kI * arm * arm + cH * 0.02 * 0.02)) / 0.022;
		expect(entry(l, "rollMomentum", "rollMomentum")).toBeCloseTo(damping, 6);
		expect(entry(l, "east", "rollError")).toBeCloseTo(9.80665, 8);
		expect(entry(l, "rollError", "rollMomentum")).toBeCloseTo(1, 9);
		expect(entry(l, "rollRotors", "rollRotors")).toBeCloseTo(-1 / 0.075, 8);
	});

	it("yaw: drag torque and the rotors' own inertia, the lead zero 2 kQ W / Jr", () => {
		const torque = (4 * 2 * kQ * w * slope) / 0.04;
		const rate = l.c[(OUTPUT.rate + 2) * l.order + l.names.indexOf("yawRotors")]!;
		// Body rate = momentum/J + rate * rotors; in-plane drag damps that rate.
		const drag = entry(l, "yawMomentum", "yawMomentum");
		expect(entry(l, "yawMomentum", "yawRotors")).toBeCloseTo(torque + drag * rate, 6);
		expect(torque / rate).toBeCloseTo((2 * kQ * w) / 7e-5, 6);
		expect(drag).toBeCloseTo(-(4 * cH * w * 0.26 * 0.26) / 0.04, 6);
	});

	it("a symmetric craft's axes do not touch", () => {
		for (const [axis, others] of [
			["roll", ["pitchMomentum", "yawMomentum", "north", "down", "rotors3"]],
			["pitch", ["rollMomentum", "yawMomentum", "east", "down", "rotors3"]],
		] as const)
			for (const other of others) expect(entry(l, other, `${axis}Rotors`)).toBe(0);
		expect(axisStates(l, 0).length).toBe(5);
		expect(axisStates(l, 2).length).toBe(3);
		expect(linear(skewedCraft()).a.filter((v) => v !== 0).length).toBeGreaterThan(
			l.a.filter((v) => v !== 0).length + 10,
		);
	});

	it("one lag: up, down or the slower, with its corner factor", () => {
		expect(linear(craft, { ...NOMINAL_POINT, motorLag: "up" }).motorLagSec).toBeCloseTo(0.055, 12);
		expect(
			linear(craft, { ...NOMINAL_POINT, motorLag: "slower", motorLagFactor: 1.2 }).motorLagSec,
		).toBeCloseTo(0.09, 12);
	});

	it("a craft that cannot hover says why instead of throwing", () => {
		const heavy = { ...craft, bare: { ...craft.bare, massKg: 9 } };
		const found = linearise(heavy, NOMINAL_POINT);
		expect(found.feasible).toBe(false);
		const sameSpin = { ...craft, rotors: craft.rotors.map((r) => ({ ...r, spin: 1 as const })) };
		const none = linearise(
			{ ...sameSpin, propulsion: { ...craft.propulsion, torqueCoefficient: 0 } },
			NOMINAL_POINT,
		);
		expect(none).toMatchObject({ feasible: false, reason: expect.stringContaining("not independent") });
	});
});
