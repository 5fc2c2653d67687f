import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { linearTicks, logTicks, plainNumber } from "../../src/pictures/ticks.ts";

const labels = (ticks: { label: string }[]) => ticks.map((t) => t.label).filter((l) => l !== "");

describe("ticks", () => {
	it("fall on 1, 2 or 5 times a power of ten with just enough decimals", () => {
		expect(labels(linearTicks(0, 1, 5))).toEqual(["0", "0.2", "0.4", "0.6", "0.8", "1.0"]);
		expect(labels(linearTicks(-12, 31, 4))).toEqual(["\u221210", "0", "10", "20", "30"]);
		expect(labels(linearTicks(-190, 10, 4, 90))).toEqual(["\u2212180", "\u221290", "0"]);
	});
	it("on a log axis: every 1..9, numbers where there is room", () => {
		expect(labels(logTicks(0.5, 20))).toEqual(["0.5", "1", "2", "5", "10", "20"]);
		expect(labels(logTicks(0.1, 100))).toEqual(["0.1", "1", "10", "100"]);
		expect(logTicks(1, 10)).toHaveLength(10);
	});
	it("stay inside and are never many", () => {
		const x = fc.double({ min: -1e6, max: 1e6, noNaN: true });
		fc.assert(
			fc.property(
				x,
				fc.double({ min: 1e-6, max: 1e6, noNaN: true }),
				fc.integer({ min: 2, max: 10 }),
				(low, span, n) => {
					fc.pre(low + span > low && span / Math.abs(low || 1) > 1e-9);
					const ticks = linearTicks(low, low + span, n);
					expect(ticks.length).toBeLessThanOrEqual(n / 0.75 + 1);
					for (const t of ticks) {
						expect(t.value).toBeGreaterThanOrEqual(low - span * 1e-6);
						expect(t.value).toBeLessThanOrEqual(low + span * (1 + 1e-6));
					}
				},
			),
		);
	});
	it("write numbers plainly", () => {
		expect(plainNumber(-0.25, 2)).toBe("\u22120.25");
		expect(plainNumber(-0.0001, 1)).toBe("0");
		expect(plainNumber(2e6, 0)).toBe("2.0e6");
	});
});
