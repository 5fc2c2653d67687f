import { describe, expect, it } from "vitest";
import { findCrossings, phaseCrossing } from "../../src/analysis/crossings.ts";
import { scanLoop } from "../../src/analysis/scalar-loop-grid.ts";
import type { LoopResponse } from "../../src/analysis/scalar-loop-types.ts";

const crossings = (respond: LoopResponse, low: number, high: number) =>
	findCrossings(scanLoop({ respond, lowestRadPerSec: low, highestRadPerSec: high, stable: true }), respond);

/** k e^(-tau s)/s. */
const delayed =
	(k: number, tau: number): LoopResponse =>
	(w, out) => {
		out[0] = (-k / w) * Math.sin(w * tau);
		out[1] = (-k / w) * Math.cos(w * tau);
	};

describe("crossings", () => {
	it("of e^-s/s lie at 1 and at pi/2 + 2 pi m (closed form), each with its margin", () => {
		const found = crossings(delayed(1, 1), 0.01, 25);
		const gains = found.filter((c) => c.kind === "gain");
		const phases = found.filter((c) => c.kind === "phase");
		expect(gains).toHaveLength(1);
		expect(gains[0]!.radPerSec).toBeCloseTo(1, 12);
		expect(gains[0]!.kind === "gain" && gains[0]!.marginDeg).toBeCloseTo(90 - 180 / Math.PI, 10);
		expect(gains[0]!.kind === "gain" && gains[0]!.delaySec).toBeCloseTo(Math.PI / 2 - 1, 12);
		expect(phases.map((c) => c.radPerSec / Math.PI)).toHaveLength(4);
		for (const [m, c] of phases.entries()) {
			const w = Math.PI * (0.5 + 2 * m);
			expect(c.radPerSec).toBeCloseTo(w, 10);
			expect(c.kind === "phase" && c.marginDb).toBeCloseTo(20 * Math.log10(w), 10);
		}
	});

	it("come in pairs where |L| only just rises above 1 between two points of the grid", () => {
		// |L| = h / sqrt(1 + (ln(w/5)/0.3)^2), turned to -90 degrees: above 1 within 0.3 sqrt(h^2 - 1) of ln 5.
		for (const excess of [1e-2, 1e-4, 1e-6]) {
			const h = 1 + excess;
			const found = crossings(
				(w, out) => {
					out[0] = 0;
					out[1] = -h / Math.hypot(1, Math.log(w / 5) / 0.3);
				},
				0.1,
				100,
			);
			const half = 0.3 * Math.sqrt(h * h - 1);
			expect(found.map((c) => c.kind)).toEqual(["gain", "gain"]);
			expect(Math.log(found[0]!.radPerSec / 5) / -half).toBeCloseTo(1, 6);
			expect(Math.log(found[1]!.radPerSec / 5) / half).toBeCloseTo(1, 6);
		}
		const below = crossings(
			(w, out) => {
				out[0] = 0;
				out[1] = -0.999999 / Math.hypot(1, Math.log(w / 5) / 0.3);
			},
			0.1,
			100,
		);
		expect(below).toEqual([]);
	});

	it("leave out the positive real axis and the change of sign at a pole on the imaginary axis", () => {
		// 1/(s^2 + 1): -1 beyond the pole, +1 below it, real throughout.
		const onAxis = crossings(
			(w, out) => {
				out[0] = 1 / (1 - w * w);
				out[1] = 0;
			},
			0.01,
			100,
		);
		expect(onAxis.filter((c) => c.kind === "phase")).toEqual([]);
		const positive = crossings(
			(w, out) => {
				out[0] = 0.5;
				out[1] = 0.2 * Math.log(w);
			},
			0.1,
			10,
		);
		expect(positive).toEqual([]);
	});

	it("leave out the change of sign where L passes through 0", () => {
		// A mean over 2 pi/100 s, whose answer is 0 at 100 rad/s, on a lag: L goes through 0 on its way.
		const found = crossings(
			(w, out) => {
				const x = (Math.PI * w) / 100;
				const mean = Math.sin(x) / x;
				out[0] = -mean * Math.cos(0.004 * w);
				out[1] = -mean * Math.sin(0.004 * w);
			},
			20,
			180,
		);
		expect(found).toEqual([]);
	});

	it("count a loop that is real and negative where the axis ends", () => {
		const respond: LoopResponse = (w, out) => {
			// 1/(z - 1) at T = 1.
			out[0] = -0.5;
			out[1] = -0.5 / Math.tan(w / 2);
		};
		const loop = { respond, lowestRadPerSec: 0.01, highestRadPerSec: Math.PI, periodSec: 1, stable: true };
		const phases = findCrossings(scanLoop(loop), respond).filter((c) => c.kind === "phase");
		expect(phases).toHaveLength(1);
		expect(phases[0]!.radPerSec).toBe(Math.PI);
		expect(phases[0]!.kind === "phase" && phases[0]!.marginDb).toBeCloseTo(20 * Math.log10(2), 10);
	});

	it("give decibels of the gain that may be added", () => {
		expect(phaseCrossing(3, 0.5).marginDb).toBeCloseTo(6.0206, 4);
		expect(phaseCrossing(3, 2).marginDb).toBeCloseTo(-6.0206, 4);
	});
});
