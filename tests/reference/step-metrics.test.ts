import { describe, expect, it } from "vitest";
import { stepMetrics } from "../../src/analysis/step-metrics.ts";
import { discretise } from "../../src/linear/discretise.ts";
import { CONTINUOUS } from "../../src/linear/state-space.ts";
import { toStateSpace, transferFunction } from "../../src/linear/transfer-function.ts";

/** Unit step of num/den through its exact held equivalent. */
function record(
	num: number[],
	den: number[],
	h: number,
	end: number,
): { timeSec: number[]; response: number[] } {
	const held = discretise(toStateSpace(transferFunction(CONTINUOUS, num, den)), h);
	const n = held.order;
	let x = new Float64Array(n);
	const timeSec: number[] = [];
	const response: number[] = [];
	for (let k = 0; k * h <= end; k++) {
		timeSec.push(k * h);
		response.push(x.reduce((sum, v, i) => sum + held.c[i]! * v, held.d[0]!));
		x = x.map((_, r) => x.reduce((sum, v, c) => sum + held.a[r * n + c]! * v, held.b[r]!));
	}
	return { timeSec, response };
}

// Closed forms, recomputed to nine digits; zeta 0.6 wn 5 is Ogata's example 5-1 (from memory), 16/(s^2+4s+16) is
// Kani, Control Systems 3e 2015, example 3.6.
const rows = [
	[0.4, 1, 25.3826722, 3.4277586, 1.4634912, 8.40931963, 7.60878139],
	[0.5, 1, 16.3033535, 3.62759873, 1.63757295, 8.07634897, 5.28909322],
	[Math.SQRT1_2, 1, 4.32139183, 4.44288294, 2.14803799, 5.96258464, 2.92983852],
	[1, 1, 0, null, 3.35790856, 5.8339217, 4.74386452],
	[0.6, 5, 9.47802248, 0.785398163, 0.37081007, 1.18859758, 1.04580969],
	[0.5, 4, 16.30335, 0.9068997, 1.63757295 / 4, 8.07634897 / 4, 5.28909322 / 4],
] as const;

describe("step of a second-order system", () => {
	it.each(rows)("zeta %f, wn %f", (zeta, wn, overshoot, peak, rise, two, five) => {
		const h = 5e-4 / wn;
		const found = stepMetrics({
			...record([wn * wn], [1, 2 * zeta * wn, wn * wn], h, 20 / wn),
			from: 0,
			to: 1,
		});
		expect(found.overshootPct).toBeCloseTo(overshoot, 5);
		if (peak === null) expect(found.peakTimeSec.value).toBeNull();
		else expect(Math.abs(found.peakTimeSec.value! - peak) * wn).toBeLessThan(1e-6);
		expect(Math.abs(found.riseTimeSec.value! - rise) * wn).toBeLessThan(1e-6);
		expect(Math.abs(found.settlingTime2Sec.value! - two) * wn).toBeLessThan(1e-6);
		expect(Math.abs(found.settlingTime5Sec.value! - five) * wn).toBeLessThan(1e-6);
	});

	it("(1-s)/(s^2+s+1): tests of python-control", () => {
		const found = stepMetrics({ ...record([-1, 1], [1, 1, 1], 5e-4, 25), from: 0, to: 1 });
		expect(found.riseTimeSec.value).toBeCloseTo(1.266113, 6);
		expect(found.settlingTime2Sec.value).toBeCloseTo(8.99301, 5);
		expect(found.overshootPct).toBeCloseTo(20.871343, 5);
		expect(found.undershootPct).toBeCloseTo(28.018711, 5);
		expect(found.peakTimeSec.value).toBeCloseTo(4.232199, 5);
	});
});
