import { describe, expect, it } from "vitest";
import { axisPlants } from "../../src/analysis/axis-plants.ts";
import { linearise } from "../../src/analysis/linearise.ts";
import { type Craft, NOMINAL_POINT } from "../../src/craft/model.ts";
import { unequalCraft } from "../fixtures/clocks.ts";
import { sampleCraft } from "../fixtures/craft.ts";

/** No damping, no gyro low-pass: roll is k / (s (tau s + 1)) behind pure delays. */
function bareCraft(): Craft {
	const craft = sampleCraft();
	return {
		...craft,
		propulsion: { ...craft.propulsion, inflowCoefficient: 0, inPlaneDragCoefficient: 0 },
		airframe: { ...craft.airframe, dragAreaM2: [0, 0, 0] },
		sensors: { ...craft.sensors, gyroLowPassHz: null },
		timing: { ...craft.timing, pulse: { kind: "digital", transportUs: 700, steps: 2000 }, computeUs: 0 },
	};
}

describe("axis plants", () => {
	it("double integrator with lag and fractional delay: the closed form of the sampled answer", () => {
		const craft = bareCraft();
		const found = linearise(craft, NOMINAL_POINT);
		if (!found.feasible) throw new Error(found.reason);
		const { linear } = found;
		const k =
			linear.a[linear.names.indexOf("rollMomentum") * linear.order + linear.names.indexOf("rollRotors")]!;
		const [T, theta, a] = [0.002, 0.0007, 1 / 0.075];
		const plant = axisPlants(craft, NOMINAL_POINT).roll;
		const out = new Float64Array(6);
		for (const omega of [0.5, 10, 80, 700, 1500]) {
			// Hold of 1/(s (tau s + 1)) = 1/s - 1/(s + a), each split where the delayed command arrives
			// (Astrom and Wittenmark, Computer-Controlled Systems, on fractional delays; from memory).
			const z = { re: Math.cos(omega * T), im: Math.sin(omega * T) };
			const term = (b1: number, b2: number, pole: number) => {
				// (b1 z + b2) / (z (z - pole))
				const n = { re: b1 * z.re + b2, im: b1 * z.im };
				const d = {
					re: z.re * z.re - z.im * z.im - pole * z.re,
					im: 2 * z.re * z.im - pole * z.im,
				};
				const size = d.re * d.re + d.im * d.im;
				return { re: (n.re * d.re + n.im * d.im) / size, im: (n.im * d.re - n.re * d.im) / size };
			};
			const one = term(T - theta, theta, 1);
			const two = term(
				(1 - Math.exp(-a * (T - theta))) / a,
				(Math.exp(-a * (T - theta)) - Math.exp(-a * T)) / a,
				Math.exp(-a * T),
			);
			plant.respond(omega, out);
			const size = Math.hypot(k * (one.re - two.re), k * (one.im - two.im));
			expect(Math.abs(out[0]! - k * (one.re - two.re)) / size).toBeLessThan(1e-7);
			expect(Math.abs(out[1]! - k * (one.im - two.im)) / size).toBeLessThan(1e-7);
			expect(out[4]).toBeCloseTo(out[0]!, 6);
		}
	});

	it("equal clocks: the sampled model, stepped with a sine, is the frequency answer", () => {
		const plant = axisPlants(sampleCraft(), NOMINAL_POINT).yaw;
		const { order: n, a, bCommand, cRate } = plant.sampled;
		expect(plant.equalClocks).toBe(true);
		const perTurn = 100;
		const omega = (2 * Math.PI) / (perTurn * plant.periodSec);
		let x = new Float64Array(n);
		let [re, im] = [0, 0];
		for (let k = 0; k < 400 * perTurn; k++) {
			const angle = (2 * Math.PI * k) / perTurn;
			if (k >= 399 * perTurn) {
				const y = x.reduce((sum, v, i) => sum + v * cRate[i]!, 0);
				re += (2 / perTurn) * y * Math.cos(angle);
				im -= (2 / perTurn) * y * Math.sin(angle);
			}
			const next = new Float64Array(n);
			for (let i = 0; i < n; i++) {
				let sum = bCommand[i]! * Math.cos(angle);
				for (let j = 0; j < n; j++) sum += a[i * n + j]! * x[j]!;
				next[i] = sum;
			}
			x = next;
		}
		const out = new Float64Array(6);
		plant.respond(omega, out);
		expect(re).toBeCloseTo(out[0]!, 8);
		expect(im).toBeCloseTo(out[1]!, 8);
	});

	it("unequal clocks: a sampled model at the mean ages stays close to the averaged answer", () => {
		const plant = axisPlants(unequalCraft(), NOMINAL_POINT).roll;
		expect(plant.equalClocks).toBe(false);
		expect(plant.slowestClockSec).toBe(0.01);
		expect(plant.slowestRateClockSec).toBeCloseTo(0.00204, 12);
		const out = new Float64Array(4);
		plant.respond(30, out);
		const at = Math.hypot(out[2]!, out[3]!);
		// Attitude 4, 6, 8, 10 or 12 ms old: a spread of 2.83 ms takes (30 x 0.00283)^2/2 of the size.
		const equal = axisPlants(sampleCraft(), NOMINAL_POINT).roll;
		const ref = new Float64Array(4);
		equal.respond(30, ref);
		const lag = Math.atan2(ref[3]!, ref[2]!) - Math.atan2(out[3]!, out[2]!);
		// 8 ms of attitude, and of frames: waits of 0, 0.04 .. 1.96 ms, then half of the 0.04 ms longer hold.
		expect(lag).toBeCloseTo(30 * (0.008 + 0.00098 + 0.00002), 6);
		expect(at / Math.hypot(ref[2]!, ref[3]!)).toBeCloseTo(1 - (30 * 0.002828) ** 2 / 2, 3);
	});

	it("no trim: an error that says why", () => {
		const craft = sampleCraft();
		const heavy = { ...craft, bare: { ...craft.bare, massKg: 9 } };
		expect(() => axisPlants(heavy, NOMINAL_POINT)).toThrow(/full throttle lifts/);
	});
});
