import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { SpeedCurve } from "../../src/craft/model.ts";
import { curveSlope, curveSpeed, writeCurveSpeed } from "../../src/craft/speed-curve.ts";

const curve = (commands: number[], speedsRadPerSec: number[]): SpeedCurve => ({
	commands,
	speedsRadPerSec,
	referenceVoltageV: 14.8,
});

const risingCurve = fc
	.array(fc.tuple(fc.double({ min: 0.01, max: 1 }), fc.double({ min: 1, max: 300 })), {
		minLength: 2,
		maxLength: 9,
	})
	.filter((steps) => steps.every(([a, b]) => Number.isFinite(a) && Number.isFinite(b)))
	.map((steps) => {
		let command = 0;
		let speed = 0;
		const points = steps.map(([dc, ds]) => {
			command += dc;
			speed += ds;
			return [command, speed] as const;
		});
		return curve(
			points.map((p) => p[0]),
			points.map((p) => p[1]),
		);
	});

describe("speed curve", () => {
	it("is the straight line through two points", () => {
		const line = curve([0.05, 1], [90, 745]);
		expect(curveSpeed(line, 0.525)).toBeCloseTo(417.5, 10);
		expect(curveSlope(line, 0.3)).toBeCloseTo(655 / 0.95, 10);
	});

	it("stands still below its first command and goes on with the end slope above its last", () => {
		const line = curve([0.05, 1], [90, 745]);
		expect(curveSpeed(line, 0.049)).toBe(0);
		expect(curveSlope(line, 0.049)).toBe(0);
		expect(curveSpeed(line, 1.3)).toBeCloseTo(745 + (0.3 * 655) / 0.95, 10);
		expect(curveSlope(line, 1.3)).toBeCloseTo(655 / 0.95, 10);
		expect(curveSlope(line, 1)).toBeCloseTo(655 / 0.95, 10);
		const bent = curve([0.1, 0.4, 0.8, 1], [100, 400, 600, 640]);
		expect(curveSpeed(bent, 1.2)).toBeCloseTo(640 + 0.2 * curveSlope(bent, 1), 10);
		expect(curveSlope(bent, 1.2)).toBe(curveSlope(bent, 1));
	});

	it("agrees with SciPy 1.17 PchipInterpolator", () => {
		const pchip = curve([0.06, 0.2, 0.35, 0.6, 0.8, 1], [80, 260, 400, 560, 640, 690]);
		const expected = [
			[0.06, 80, 1455.829228243021],
			[0.1, 136.55084782532492, 1369.0946683496131],
			[0.2, 260, 1083.522783433824],
			[0.27, 331.14665541828447, 946.6606839307382],
			[0.5, 504.6184529338813, 616.2059382827129],
			[0.7, 604.5110821382007, 401.04302477183825],
			[0.93, 675.636875, 233.25480769230774],
			[1, 690, 175],
		] as const;
		for (const [command, speed, slope] of expected) {
			expect(curveSpeed(pchip, command)).toBeCloseTo(speed, 9);
			expect(curveSlope(pchip, command)).toBeCloseTo(slope, 8);
		}
		const bent = curve([0, 1, 2], [0, 1, 11]);
		expect(curveSlope(bent, 0)).toBe(0);
		expect(curveSpeed(bent, 0.5)).toBeCloseTo(0.2727272727272727, 12);
		expect(curveSpeed(bent, 1.5)).toBeCloseTo(4.4147727272727275, 12);
	});

	it("never falls between its points, for any rising points", () => {
		fc.assert(
			fc.property(risingCurve, fc.double({ min: 0, max: 1, noNaN: true }), (c, at) => {
				const command = c.commands[0]! + at * (c.commands.at(-1)! - c.commands[0]!);
				expect(curveSlope(c, command)).toBeGreaterThanOrEqual(-1e-7);
			}),
		);
	});

	it("writes into arrays what it returns", () => {
		fc.assert(
			fc.property(risingCurve, fc.double({ min: -0.5, max: 12, noNaN: true }), (c, command) => {
				const from = Float64Array.of(7, command);
				const out = Float64Array.of(7, 7, 7);
				writeCurveSpeed(c, from, 1, out, 2);
				expect([...out]).toEqual([7, 7, curveSpeed(c, command)]);
				expect([...from]).toEqual([7, command]);
			}),
		);
	});

	it("refuses what does not rise", () => {
		expect(() => curveSpeed(curve([0, 1], [10, 10]), 0.5)).toThrow(/speed 10 follows 10/);
		expect(() => curveSpeed(curve([0, 0], [10, 20]), 0.5)).toThrow(/command 0 follows 0/);
		expect(() => curveSpeed(curve([0], [10]), 0.5)).toThrow(/at least 2/);
		expect(() => curveSpeed(curve([0, 1], [0, Number.NaN]), 0.5)).toThrow(/finite/);
	});
});
