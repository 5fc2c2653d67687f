import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
	calibratedUs,
	deflection,
	halfStickSentence,
	type StickOptions,
	softened,
	stickForThrottle,
	stickSetPoint,
	throttleFromStick,
} from "../../src/control/sticks.ts";

const plain: StickOptions = {
	lowUs: 1000,
	centreUs: 1500,
	highUs: 2000,
	reverse: false,
	deadBand: 0,
	centreSoftness: 0,
};
const odd: StickOptions = { ...plain, lowUs: 1094, centreUs: 1512, highUs: 1906 };

describe("sticks", () => {
	it("maps low, centre and high onto 1000, 1500 and 2000 us and clamps beyond", () => {
		expect([1000, 1094, 1512, 1906, 2100].map((us) => calibratedUs(odd, us))).toEqual([
			1000, 1000, 1500, 2000, 2000,
		]);
		expect(calibratedUs({ ...odd, reverse: true }, 1906)).toBe(1000);
	});
	it("cuts the dead band out without a jump", () => {
		const stick = { ...plain, deadBand: 0.04 };
		expect(deflection(stick, 1519)).toBe(0);
		expect(deflection(stick, 1520.001)).toBeCloseTo(0, 4);
		expect(deflection(stick, 2000)).toBe(1);
		expect(deflection(stick, 1000)).toBe(-1);
	});
	it("finds the reading for a throttle, whatever the calibration", () => {
		for (const stick of [plain, odd, { ...odd, reverse: true }, { ...odd, reverse: true, deadBand: 0.05 }])
			for (const throttle of [0, 0.2, 0.5, 0.63, 1])
				expect(throttleFromStick(stick, stickForThrottle(stick, throttle))).toBeCloseTo(throttle, 12);
	});
	it("is odd, rising and ends at full stick whatever the softness", () => {
		const s = fc.double({ min: 0, max: 1, noNaN: true });
		fc.assert(
			fc.property(s, s, s, (soft, a, b) => {
				const [low, high] = a < b ? [a, b] : [b, a];
				expect(softened(soft, low)).toBeLessThanOrEqual(softened(soft, high) + 1e-15);
				expect(softened(soft, -a)).toBe(-softened(soft, a));
				expect(softened(soft, 1)).toBeCloseTo(1, 15);
			}),
		);
	});
	it("gives set-points and throttle", () => {
		expect(stickSetPoint(plain, 1750, 0.6)).toBeCloseTo(0.3, 12);
		expect(throttleFromStick(odd, 1094)).toBe(0);
		expect(throttleFromStick(odd, 1906)).toBe(1);
	});
	it("says what half stick gives", () => {
		const soft = { ...odd, centreSoftness: 0.72 };
		// 35 deg x ((1 - 0.72)/2 + 0.72/8)
		expect(halfStickSentence(soft, (35 * Math.PI) / 180, "angle")).toBe("half stick gives 8.1 deg");
		expect(halfStickSentence({ ...plain, reverse: true }, Math.PI, "rate")).toBe("half stick gives 90 deg/s");
	});
	it("refuses a calibration that does not rise", () =>
		expect(() => calibratedUs({ ...plain, centreUs: 900 }, 1500)).toThrow(/centre 900/));
});
