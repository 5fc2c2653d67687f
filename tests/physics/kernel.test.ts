import fc from "fast-check";
import { describe, expect, it } from "vitest";
import * as quaternion from "../../src/math/quaternion.ts";
import { derivative, step } from "../../src/physics/kernel.ts";
import { bodyRates, createKernel, stateSize, WORK_BROWN_OUT } from "../../src/physics/kernel-layout.ts";
import { bareBody, bodyOf, samplePlant } from "../fixtures/plant.ts";

describe("the gyro's low-pass", () => {
	// A body under constant torque in vacuum turns at w = k t: behind a first-order lag of rate a that reads
	// k (t - 1/a + exp(-a t)/a). Exact whatever the step, since w is a cubic (here a line).
	it.each([0.5e-3, 2e-3, 20e-3, 100e-3])(
		"is exact on a ramp at steps of %f s, far beyond RK4's own limit",
		(h) => {
			const plant = bareBody([0.02, 0.02, 0.02]);
			const kernel = createKernel(plant, {
				gyroLowPassHz: 98,
				estimatorTimeConstantSec: null,
				gyroBiasRadPerSec: [0, 0, 0],
			});
			const body = bodyOf(plant, [0, 0, 0]);
			const outside = Float64Array.of(0.02, 0, 0, 0, 0, 0);
			const steps = Math.round(0.4 / h);
			for (let i = 0; i < steps; i++) step(kernel, body.x, body.u, body.air, outside, h);
			const a = 2 * Math.PI * 98;
			expect(body.x[13]).toBeCloseTo(0.4 - 1 / a + Math.exp(-a * 0.4) / a, 12);
		},
	);

	/** Rotors spin up off balance; low-passed rates after 50 ms. */
	const filteredAfter = (h: number, cornerHz: number): number[] => {
		const plant = samplePlant();
		const kernel = createKernel(plant, {
			gyroLowPassHz: cornerHz,
			estimatorTimeConstantSec: null,
			gyroBiasRadPerSec: [0, 0, 0],
		});
		const body = bodyOf(plant, [1, -0.5, 0.3], [400, 410, 420, 430]);
		body.u.set([40, 41, 42, 39]);
		body.x[2] = -1;
		for (let i = 0; i < Math.round(0.048 / h); i++) step(kernel, body.x, body.u, body.air, body.outside, h);
		return Array.from(body.x.slice(13, 16));
	};
	it.each([5, 98, 2000])("converges at fourth order at a corner of %d Hz", (cornerHz) => {
		const want = filteredAfter(0.125e-3, cornerHz);
		const miss = (h: number): number => Math.hypot(...filteredAfter(h, cornerHz).map((v, i) => v - want[i]!));
		const order = Math.log2(miss(8e-3) / miss(4e-3));
		expect(order).toBeGreaterThan(3.6);
		expect(miss(1e-3)).toBeLessThan(1e-7);
	});
});

describe("derivative", () => {
	it("is what a vanishing step does, in every entry", () => {
		const plant = samplePlant();
		const sensors = {
			gyroLowPassHz: 98,
			estimatorTimeConstantSec: 2,
			gyroBiasRadPerSec: [0.01, -0.02, 0] as const,
		};
		const kernel = createKernel(plant, sensors);
		const body = bodyOf(plant, [0.4, -0.3, 0.2], [480, 500, 520, 490]);
		body.x.set([1, 2, -3, 0.5, -0.6, 0.2]);
		body.x.set([0.9, 0.3, -0.2, Math.sqrt(1 - 0.94)], 6);
		body.u.fill(35);
		body.air.set([1, 0.5, 0.1, 1, 0.5, 0.1, 1, 0.5, 0.1]);
		body.air.set([0.1, -0.2, 0.05], 14);
		const dx = new Float64Array(stateSize(4));
		derivative(kernel, body.x, body.u, body.air, body.outside, dx);
		const h = 1e-6;
		const ahead = body.x.slice();
		step(kernel, ahead, body.u, body.air, body.outside, h);
		const ahead2 = body.x.slice();
		step(kernel, ahead2, body.u, body.air, body.outside, 2 * h);
		for (let i = 0; i < dx.length; i++) {
			const slope = (4 * ahead[i]! - ahead2[i]! - 3 * body.x[i]!) / (2 * h);
			expect(Math.abs(slope - dx[i]!)).toBeLessThan(1e-5 * (1 + Math.abs(dx[i]!)));
		}
	});
	it("of no time leaves the state as it is", () => {
		for (const gyroLowPassHz of [98, null]) {
			const plant = samplePlant();
			const kernel = createKernel(plant, {
				gyroLowPassHz,
				estimatorTimeConstantSec: 0.5,
				gyroBiasRadPerSec: [0.01, 0.02, 0],
			});
			const body = bodyOf(plant, [0.4, -0.3, 0.2], [480, 500, 520, 490]);
			if (gyroLowPassHz === null) bodyRates(kernel, body.x, body.x.subarray(13, 16));
			else body.x.set([0.3, -0.2, 0.1], 13);
			const before = body.x.slice();
			step(kernel, body.x, body.u, body.air, body.outside, 0);
			body.x.forEach((v, i) => {
				expect(Math.abs(v - before[i]!)).toBeLessThan(1e-15 * (1 + Math.abs(before[i]!)));
			});
		}
	});
	it("throws for a rotor count that no craft has", () => {
		expect(() => createKernel(samplePlant({ rotors: [] }))).toThrow(/0 entries, expected 4..8/);
		expect(() => createKernel(samplePlant({ massKg: 0 }))).toThrow(/massKg 0, expected above 0/);
	});
});

describe("the integrator on an equation that depends on time", () => {
	it("is of fourth order: drag in a wind that changes inside each step", () => {
		const run = (h: number): number => {
			const body = bodyOf(samplePlant({ gravityMPerSec2: 0, groundEffect: false }), [0, 0, 0]);
			const wind = (t: number): number => 10 * Math.sin(6 * t);
			for (let k = 0; k < Math.round(1 / h); k++) {
				for (let s = 0; s < 3; s++) body.air[3 * s] = 20 + wind(k * h + (s * h) / 2);
				step(body.kernel, body.x, body.u, body.air, body.outside, h);
			}
			return body.x[3]!;
		};
		const want = run(1 / 2048);
		const order = Math.log2(Math.abs(run(1 / 16) - want) / Math.abs(run(1 / 32) - want));
		expect(order).toBeGreaterThan(3.8);
		expect(order).toBeLessThan(4.6);
	});
});

const num = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const list = (count: number, min: number, max: number) =>
	fc.array(num(min, max), { minLength: count, maxLength: count });

describe("four upright rotors alike", () => {
	it("take their own way to the same numbers as the general one, whatever the plant and state", () => {
		fc.assert(
			fc.property(
				list(16, 0.5, 1.5),
				list(13, -1, 1),
				list(4, 0, 900),
				list(4, 0, 60),
				list(12, -3, 3),
				list(9, -1, 1),
				list(6, -2, 2),
				fc.record({ groundEffect: fc.boolean(), lowPass: fc.boolean(), empty: fc.boolean() }),
				(factors, start, speeds, u, air, skew, outside, { groundEffect, lowPass, empty }) => {
					const base = samplePlant();
					const f = (k: number): number => factors[k]!;
					const s = (k: number, size: number): number => size * skew[k]!;
					const j = base.inertiaKgM2;
					const [xy, xz, yz] = [s(0, 0.005), s(1, 0.005), s(2, 0.005)];
					const plant = samplePlant({
						groundEffect,
						inertiaKgM2: [j[0], xy, xz, xy, j[4], yz, xz, yz, j[8]],
						centreOfMassM: [s(3, 0.03), s(4, 0.03), s(5, 0.03)],
						centreOfPressureM: [s(6, 0.1), s(7, 0.1), s(8, 0.1)],
						openCircuitV: empty ? 1 : base.openCircuitV,
						rotors: base.rotors.map((r, i) => ({
							...r,
							positionM: [r.positionM[0] * f(i), r.positionM[1] * f(4 + i), r.positionM[2] * f(8)],
							thrustCoefficient: r.thrustCoefficient * f(9),
							torqueCoefficient: r.torqueCoefficient * f(10),
							inflowCoefficient: r.inflowCoefficient * f(11),
							inPlaneDragCoefficient: r.inPlaneDragCoefficient * f(12),
							inertiaKgM2: r.inertiaKgM2 * f(13),
							tauUpSec: r.tauUpSec * f(14),
							tauDownSec: r.tauDownSec * f(15),
						})),
					});
					const sensors = {
						gyroLowPassHz: lowPass ? 98 : null,
						estimatorTimeConstantSec: 2,
						gyroBiasRadPerSec: [0.01, 0.02, 0] as const,
					};
					const answers = [1, 0].map((alike) => {
						const kernel = createKernel(plant, sensors);
						expect(kernel.p[22]).toBe(1);
						kernel.p[22] = alike;
						const body = bodyOf(plant, [start[0]!, start[1]!, start[2]!], speeds);
						body.x.set(start.slice(3, 9));
						body.x.set(quaternion.fromEuler([start[9]!, start[10]!, start[11]!]), 6);
						body.u.set(u);
						body.air.set(air.slice(0, 9));
						body.air.set(air.slice(9), 14);
						body.outside.set(outside);
						step(kernel, body.x, body.u, body.air, body.outside, 1e-3);
						return [...body.x, kernel.work[WORK_BROWN_OUT]!];
					});
					answers[0]!.forEach((v, i) => {
						// Torques and forces are differences of terms some hundred times their size.
						expect(Math.abs(v - answers[1]![i]!)).toBeLessThan(1e-13 * (10 + Math.abs(v)));
					});
				},
			),
			{ numRuns: 200, seed: 3 },
		);
	});
	it("are not taken for it where one rotor differs in anything but place and spin", () => {
		const base = samplePlant();
		const alike = (change: Partial<(typeof base.rotors)[number]>): number =>
			createKernel(samplePlant({ rotors: base.rotors.map((r, i) => (i === 2 ? { ...r, ...change } : r)) }))
				.p[22]!;
		const { positionM, spin, ...rest } = base.rotors[2]!;
		expect(alike({ positionM: [0.3, 0.4, positionM[2]], spin: spin === 1 ? -1 : 1 })).toBe(1);
		expect(alike({ positionM: [positionM[0], positionM[1], positionM[2] + 0.01] })).toBe(0);
		expect(alike({ axis: [0, 0, 1] })).toBe(0);
		expect(alike({ axis: [0, Math.sin(0.1), -Math.cos(0.1)] })).toBe(0);
		const { axis: _, speedFactor, ...numbers } = rest;
		expect(alike({ speedFactor: speedFactor * 1.05 })).toBe(1);
		expect(Object.keys(numbers)).toHaveLength(8);
		for (const [name, value] of Object.entries(numbers)) expect(alike({ [name]: 1.01 * value })).toBe(0);
	});
});
