import { describe, expect, it } from "vitest";
import { type Block, respondBlock } from "../../src/control/block.ts";
import { delay, expLowPass, lowPass1, lowPass2, notch } from "../../src/control/blocks.ts";

const T = 0.002;
function gain(block: Block, hz: number): number {
	const out = new Float64Array(2);
	respondBlock(block, 0, 2 * Math.PI * hz * T, out);
	return Math.hypot(out[0]!, out[1]!);
}

describe("filters, against what defines them", () => {
	it("low-pass of one pole: 1 at rest, half the power at the cutoff, 0 at the Nyquist frequency", () => {
		const block = lowPass1(40, T);
		expect(gain(block, 0)).toBeCloseTo(1, 12);
		expect(gain(block, 40)).toBeCloseTo(Math.SQRT1_2, 12);
		expect(gain(block, 250)).toBeCloseTo(0, 12);
	});
	it("low-pass of two poles: 1/(2 damping) and -90 degrees at the cutoff", () => {
		const block = lowPass2(60, 0.6, T);
		const out = new Float64Array(2);
		respondBlock(block, 0, 2 * Math.PI * 60 * T, out);
		expect(gain(block, 0)).toBeCloseTo(1, 12);
		expect(out[0]).toBeCloseTo(0, 12);
		expect(out[1]).toBeCloseTo(-1 / 1.2, 12);
	});
	it("notch: 0 at the centre, half the power exactly one width apart, 1 at both ends", () => {
		const block = notch(80, 20, T);
		expect(gain(block, 80)).toBeLessThan(1e-12);
		expect(gain(block, 0)).toBeCloseTo(1, 12);
		expect(gain(block, 250)).toBeCloseTo(1, 12);
		const half = (from: number, to: number): number => {
			let [a, b] = [from, to];
			for (let i = 0; i < 60; i++) {
				const m = (a + b) / 2;
				if (gain(block, m) > Math.SQRT1_2 === gain(block, a) > Math.SQRT1_2) a = m;
				else b = m;
			}
			return a;
		};
		expect(half(80, 200) - half(1, 80)).toBeCloseTo(20, 8);
	});
	it("exponential low-pass keeps exp(-2 pi f T) of what it had", () => {
		expect(expLowPass(40, T).denominator[1]).toBeCloseTo(-Math.exp(-0.16 * Math.PI), 15);
	});
	it("names what is wrong", () => {
		expect(() => lowPass1(250, T)).toThrow(/cutoffHz: 250 Hz.*250 Hz/);
		expect(() => lowPass2(20, 0, T)).toThrow(/damping: 0/);
		expect(() => delay(1.5)).toThrow(/samples 1.5/);
	});
});
