import { describe, expect, it } from "vitest";
import { createScanResult, scanMargins } from "../../src/analysis/margins-scan.ts";
import { analyseScalarLoop } from "../../src/analysis/scalar-loop.ts";
import { describeTransferLoop, type TransferLoop } from "../../src/analysis/scalar-loop-transfer.ts";

const loops: TransferLoop[] = [
	{ num: [3], den: [1, 3, 3, 1] },
	{ num: [1.4], den: [1, 2, 1], delaySec: 1 },
	{ num: [1], den: [1, 2, 1, 0] },
	{ num: [1, 0.2, 0.01], den: [1, 1, 0, 0, 0] },
	{ num: [4, 1, 0.0625], den: [8, 0, 0, 0], delaySec: 1 },
	{ num: [2], den: [1, 3, 2, 0], sampleTimeSec: 0.01, hold: "zoh" },
	{ num: [1], den: [1, -1], sampleTimeSec: 0.01, discrete: true },
];

describe("margins from a fixed grid", () => {
	it.each(loops)("agrees with the refined analysis within 0.01 dB: %j", (input) => {
		const loop = describeTransferLoop(input);
		const high = loop.periodSec === undefined ? 30 : loop.highestRadPerSec;
		const low = high / 1e4;
		const omega = Float64Array.from({ length: 300 }, (_, i) =>
			i === 299 ? high : low * (high / low) ** (i / 299),
		);
		const re = new Float64Array(300);
		const im = new Float64Array(300);
		const out = new Float64Array(2);
		omega.forEach((w, i) => {
			loop.respond(w, out);
			re[i] = out[0]!;
			im[i] = out[1]!;
		});
		const quick = scanMargins(omega, re, im, createScanResult());
		const exact = analyseScalarLoop(loop);
		const decibel = (x: number): number => 20 * Math.log10(x);
		expect(Math.abs(decibel(quick.ms / exact.ms.value!))).toBeLessThan(0.01);
		expect(Math.abs(decibel(quick.mt / exact.mt.value!))).toBeLessThan(0.01);
		for (const [fast, slow] of [
			[quick.gainMarginUpDb, exact.gainMarginUpDb],
			[quick.gainMarginDownDb, exact.gainMarginDownDb],
		] as const) {
			if (slow.value === null) expect(fast).toBe(Infinity);
			else expect(Math.abs(fast - slow.value)).toBeLessThan(0.01);
		}
		expect(Math.abs(quick.phaseMarginDeg - exact.phaseMarginDeg.value!)).toBeLessThan(0.01);
		expect(quick.delayMarginSec / exact.delayMarginSec.value!).toBeCloseTo(1, 3);
		expect(quick.crossoverRadPerSec / exact.crossoverRadPerSec.value!).toBeCloseTo(1, 4);
	});
});
