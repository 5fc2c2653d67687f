import { describe, expect, it } from "vitest";
import {
	parallelToStandard,
	seriesToStandard,
	standardToParallel,
	standardToSeries,
} from "../../src/handover/pid-forms.ts";

describe("PID forms", () => {
	it("standard (2, 3, 0.5) is parallel (2, 2/3, 1): recomputed by hand", () => {
		expect(standardToParallel({ kp: 2, ti: 3, td: 0.5 })).toEqual({ kp: 2, ki: 2 / 3, kd: 1 });
		expect(parallelToStandard({ kp: 2, ki: 2 / 3, kd: 1 })).toEqual({ kp: 2, ti: 3, td: 0.5 });
	});
	// Skogestad, J. Process Control 13 (2003) 291-309: f = 1 + Td/Ti; Kc f, Ti + Td, Td/f.
	it("series to standard: with Ti = Td = 8 the standard form is (2 Kc, 16, 4)", () =>
		expect(seriesToStandard({ kp: 0.0625, ti: 8, td: 8 })).toEqual({ kp: 0.125, ti: 16, td: 4 }));
	it("and back, where a real series form exists (Ti >= 4 Td)", () => {
		const series = { kp: 1.3, ti: 5, td: 0.7 };
		const back = standardToSeries(seriesToStandard(series))!;
		expect(back.kp).toBeCloseTo(1.3, 12);
		expect(back.ti).toBeCloseTo(5, 12);
		expect(back.td).toBeCloseTo(0.7, 12);
		expect(standardToSeries({ kp: 1, ti: 3, td: 1 })).toBeNull();
	});
	it("no integral stays no integral", () => {
		const pd = parallelToStandard({ kp: 2, ki: 0, kd: 1 });
		expect(pd.ti).toBeNull();
		expect(standardToParallel(pd)).toEqual({ kp: 2, ki: 0, kd: 1 });
		expect(seriesToStandard(pd)).toEqual(pd);
		expect(standardToSeries(pd)).toEqual(pd);
		expect(() => standardToParallel({ kp: 1, ti: 0, td: 0 })).toThrow(/Ti 0/);
	});
});
