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

describe("a pair of crossings between two points", () => {
	const points = 300;
	const omega = Float64Array.from({ length: points }, (_, i) => 0.1 * 1e4 ** (i / (points - 1)));
	const re = new Float64Array(points);
	const im = new Float64Array(points);
	const spacing = Math.log(omega[1]! / omega[0]!);
	// A bump of |L| or a dip of the phase, half-width ten grid steps, its top a third of a step past a point.
	const top = Math.log(omega[150]!) + spacing / 3;
	const shape = (w: number): number => 1 / (1 + ((Math.log(w) - top) / (10 * spacing)) ** 2);

	it.each([1e-3, 5e-4])("is not missed: |L| above 1 by %f", (excess) => {
		omega.forEach((w, i) => {
			re[i] = 0;
			im[i] = -(1 + excess) * shape(w);
		});
		expect(Math.max(...im.map((y) => -y))).toBeLessThan(1);
		const found = scanMargins(omega, re, im, createScanResult());
		expect(found.phaseMarginDeg).toBeCloseTo(90, 6);
		const half = 10 * spacing * Math.sqrt(excess);
		expect(Math.log(found.crossoverRadPerSec)).toBeCloseTo(top + half, 3);
	});

	it("is not missed: L just past the negative real axis", () => {
		omega.forEach((w, i) => {
			re[i] = -0.5;
			im[i] = -0.2 * (1 - 1.0005 * shape(w));
		});
		expect(Math.max(...im)).toBeLessThan(0);
		expect(scanMargins(omega, re, im, createScanResult()).gainMarginUpDb).toBeCloseTo(20 * Math.log10(2), 6);
	});

	it("is not made up where the top stays below", () => {
		omega.forEach((w, i) => {
			re[i] = 0;
			im[i] = -(1 - 1e-4) * shape(w);
		});
		const found = scanMargins(omega, re, im, createScanResult());
		expect(found.phaseMarginDeg).toBe(Infinity);
		expect(found.crossoverRadPerSec).toBe(0);
	});
});

it("takes less from the heap per call than one array of the grid would", async () => {
	const { Session } = await import("node:inspector/promises");
	const points = 300;
	const omega = Float64Array.from({ length: points }, (_, i) => 0.1 * 1e4 ** (i / (points - 1)));
	const re = new Float64Array(points);
	const im = new Float64Array(points);
	const out = createScanResult();
	const run = (count: number): void => {
		for (let k = 0; k < count; k++) {
			const gain = 1 + (k % 50) / 10;
			for (let i = 0; i < points; i++) {
				const w = omega[i]!;
				const size = gain / (w * Math.hypot(1, 0.05 * w));
				const turn = -Math.PI / 2 - Math.atan(0.05 * w) - 0.01 * w;
				re[i] = size * Math.cos(turn);
				im[i] = size * Math.sin(turn);
			}
			scanMargins(omega, re, im, out);
		}
	};
	run(3000);
	const session = new Session();
	session.connect();
	await session.post("HeapProfiler.startSampling", {
		samplingInterval: 512,
		includeObjectsCollectedByMajorGC: true,
		includeObjectsCollectedByMinorGC: true,
	});
	run(5000);
	const { profile } = await session.post("HeapProfiler.stopSampling");
	session.disconnect();
	// Bytes that functions of that file took from the heap, kept or collected since: numbers that the engine boxes between calls.
	type Node = (typeof profile)["head"];
	const sum = (node: Node): number =>
		(node.callFrame.url.includes("margins-scan.ts") ? node.selfSize : 0) +
		node.children.reduce((total, child) => total + sum(child), 0);
	expect(sum(profile.head) / 5000).toBeLessThan(8 * points);
});
