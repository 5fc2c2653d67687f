import { describe, expect, it } from "vitest";
import { actuatorMetrics, disturbanceMetrics, stepMetrics } from "../../src/analysis/step-metrics.ts";

const timeSec = Array.from({ length: 10001 }, (_, i) => i * 1e-3);

describe("stepMetrics", () => {
	it("integrates the error of a first-order lag (closed form: IAE tau, ITAE tau^2)", () => {
		const found = stepMetrics({
			timeSec,
			response: timeSec.map((t) => 2 - 2 * Math.exp(-t / 0.5)),
			from: 0,
			to: 2,
		});
		expect(found.iae).toBeCloseTo(1, 5);
		expect(found.itae).toBeCloseTo(0.5, 5);
		expect(found.riseTimeSec.value).toBeCloseTo(0.5 * Math.log(9), 6);
		expect(found.settlingTime2Sec.value).toBeCloseTo(0.5 * Math.log(50), 5);
		expect(found.peakTimeSec.value).toBeNull();
	});
	it("counts from the step and holds for a step downwards", () => {
		const response = timeSec.map((t) => (t < 3 ? 1 : Math.exp(-(t - 3))));
		const found = stepMetrics({ timeSec, response, stepSec: 3, from: 1, to: 0 });
		expect(found.settlingTime5Sec.value).toBeCloseTo(Math.log(20), 6);
	});
	it("says when a trace does not settle or rise", () => {
		const found = stepMetrics({ timeSec, response: timeSec.map(() => 0.5), from: 0, to: 1 });
		expect(found.settlingTime2Sec).toEqual({ value: null, why: expect.stringContaining("25.00 bands") });
		expect(found.riseTimeSec).toEqual({ value: null, why: expect.stringContaining("50.0 %") });
		expect(found.steadyStateError).toBeCloseTo(0.5, 12);
	});
	it("refuses a step of nothing", () => {
		expect(() => stepMetrics({ timeSec, response: timeSec, from: 1, to: 1 })).toThrow(/different/);
	});
});

it("disturbanceMetrics finds peak and recovery of t e^-t (closed form)", () => {
	const found = disturbanceMetrics({
		timeSec,
		response: timeSec.map((t) => 4 - t * Math.exp(-t)),
		target: 4,
		band: 2 * Math.exp(-2),
	});
	expect(found.peakDeviation).toBeCloseTo(Math.exp(-1), 8);
	expect(found.peakTimeSec).toBeCloseTo(1, 5);
	expect(found.recoverySec.value).toBeCloseTo(2, 5);
	expect(found.iae).toBeCloseTo(1 - 11 * Math.exp(-10), 5);
});

it("actuatorMetrics counts changes and headroom", () => {
	const found = actuatorMetrics(
		[
			[0.5, 0.8, 1, 0.5],
			[0.5, 0.2, 0.1, 0.5],
		],
		0.05,
		1,
	);
	expect(found.leastHeadroom).toBe(0);
	expect(found.activityRms).toBeCloseTo(Math.sqrt((0.09 + 0.04 + 0.25 + 0.09 + 0.01 + 0.16) / 6), 12);
});
