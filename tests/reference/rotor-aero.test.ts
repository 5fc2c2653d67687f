import { describe, expect, it } from "vitest";
import {
	inflowCoefficient,
	inPlaneDragCoefficient,
	LIFT_SLOPE,
	PROFILE_DRAG,
	type RotorShape,
	torqueFromMerit,
} from "../../src/craft/rotor-aero.ts";

const SHAPE: RotorShape = {
	radiusM: 0.14,
	blades: 2,
	chordM: 0.022,
	densityKgM3: 1.225,
	thrustCoefficient: 1.89e-5,
};

/**
 * The same rotor integrated strip by strip (blade element theory, constant pitch and chord), inflow solved against
 * momentum theory, at one speed W: nothing in it is linearised.
 */
function strips(pitch: number, climb: number, sideways: number, w: number) {
	const { radiusM: r, blades, chordM, densityKgM3: rho } = SHAPE;
	const area = Math.PI * r * r;
	const integrate = (vi: number) => {
		let thrust = 0;
		let drag = 0;
		const n = 200;
		const turns = sideways === 0 ? 1 : 72;
		for (let k = 0; k < turns; k++)
			for (let i = 0; i < n; i++) {
				const x = ((i + 0.5) / n) * r;
				const psi = (2 * Math.PI * k) / turns;
				const ut = w * x + sideways * Math.sin(psi);
				const up = climb + vi;
				const strip = (0.5 * rho * chordM * (r / n) * blades) / turns;
				thrust += strip * LIFT_SLOPE * (pitch * ut * ut - up * ut);
				drag += strip * (LIFT_SLOPE * (pitch * up * ut - up * up) + PROFILE_DRAG * ut * ut) * Math.sin(psi);
			}
		return { thrust, drag };
	};
	let low = 0;
	let high = 60;
	for (let k = 0; k < 80; k++) {
		const vi = (low + high) / 2;
		if (integrate(vi).thrust > 2 * rho * area * vi * (vi + climb)) low = vi;
		else high = vi;
	}
	return { ...integrate(low), vi: low };
}

/** The pitch at which the hovering strips give kT W^2. */
function hoverPitch(w: number): number {
	let low = 0;
	let high = 1;
	for (let k = 0; k < 60; k++) {
		const pitch = (low + high) / 2;
		if (strips(pitch, 0, 0, w).thrust < SHAPE.thrustCoefficient * w * w) low = pitch;
		else high = pitch;
	}
	return low;
}

describe("rotor coefficients against a strip-by-strip rotor", () => {
	const w = 500;
	const pitch = hoverPitch(w);

	it("loss of thrust with climb", () => {
		const slope = (strips(pitch, 0.05, 0, w).thrust - strips(pitch, -0.05, 0, w).thrust) / 0.1;
		expect(-slope / w / inflowCoefficient(SHAPE)).toBeCloseTo(1, 3);
	});

	it("in-plane drag of rigid blades is what is left without flapping", () => {
		const v = 0.5;
		const { drag } = strips(pitch, 0, v, w);
		const { radiusM: r, densityKgM3: rho } = SHAPE;
		const scale = rho * Math.PI * r ** 3;
		const ct = SHAPE.thrustCoefficient / (rho * Math.PI * r ** 4);
		const lambda = Math.sqrt(ct / 2);
		const flapping = scale * ct * ((8 / 3) * pitch - 2 * lambda);
		expect((drag / (w * v) + flapping) / inPlaneDragCoefficient(SHAPE)).toBeCloseTo(1, 3);
	});

	it("hover power is the ideal over 0.6: T 10 N, R 0.165 m needs 69.080914 W ideal (momentum theory)", () => {
		const shape = { ...SHAPE, radiusM: 0.165, thrustCoefficient: 10 / w ** 2 };
		expect(0.6 * torqueFromMerit(shape) * w ** 3).toBeCloseTo(69.080914, 5);
	});
});
