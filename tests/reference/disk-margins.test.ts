import { describe, expect, it } from "vitest";
import { diskMargin } from "../../src/analysis/disk-margin.ts";
import { structuredSingularValue } from "../../src/analysis/disk-margin-mu.ts";
import { scanLoop } from "../../src/analysis/scalar-loop-grid.ts";
import {
	analyseLoopFromTransferFunction,
	describeTransferLoop,
} from "../../src/analysis/scalar-loop-transfer.ts";
import { closeLoop } from "../../src/linear/connect.ts";
import { createResponder } from "../../src/linear/frequency-response.ts";
import { CONTINUOUS, stateSpace } from "../../src/linear/state-space.ts";

// Seiler, Packard and Gahinet, IEEE Control Systems Magazine 40(5), 78-95, 2020; digits recomputed independently.
describe("disk margins", () => {
	const input = { num: [25], den: [1, 10, 10, 10] };

	it("gives the balanced disk of 25/(s^3+10s^2+10s+10)", () => {
		const disk = analyseLoopFromTransferFunction(input).diskMargin!;
		expect(disk.alpha).toBeCloseTo(0.45809255, 8);
		expect(disk.gainMin).toBeCloseTo(0.627278, 6);
		expect(disk.gainMax).toBeCloseTo(1.594189, 6);
		expect(disk.phaseDeg).toBeCloseTo(25.801709, 6);
		expect(disk.radPerSec).toBeCloseTo(1.955027, 5);
	});

	it.each([
		[1, 0.40214586],
		[-1, 0.48636748],
	])("with skew %i", (sigma, alpha) => {
		const loop = describeTransferLoop(input);
		const out = new Float64Array(2);
		const found = diskMargin(
			(w, re, im) => {
				loop.respond(w, out);
				const size = (1 + out[0]!) ** 2 + out[1]! ** 2;
				re[0] = (1 + out[0]!) / size;
				im[0] = -out[1]! / size;
			},
			1,
			scanLoop(loop).omega,
			sigma,
			{ infinity: 1, zero: 1 / 3.5 },
		);
		expect(found.alpha).toBeCloseTo(alpha, 8);
	});

	// P(s): A = [[0, 10], [-10, 0]], B = I, C = [[1, 10], [-10, 1]], D = 0; K = I.
	const satellite = stateSpace(CONTINUOUS, {
		a: [
			[0, 10],
			[-10, 0],
		],
		b: [
			[1, 0],
			[0, 1],
		],
		c: [
			[1, 10],
			[-10, 1],
		],
	});
	const omega = Array.from({ length: 241 }, (_, i) => 10 ** (-3 + i / 40));

	it("finds the spinning satellite's loops fragile together", () => {
		const closed = createResponder(closeLoop(satellite));
		const out = new Float64Array(8);
		const found = diskMargin(
			(w, re, im) => {
				closed(w, out);
				for (let i = 0; i < 4; i++) {
					re[i] = (i % 3 === 0 ? 1 : 0) - out[2 * i]!;
					im[i] = -out[2 * i + 1]!;
				}
			},
			2,
			omega,
			0,
			{ infinity: 1 },
		);
		expect(found.alpha).toBeCloseTo(0.09975125, 6);
		expect(Math.round(found.alpha * 1e4) / 1e4).toBe(0.0998);
		expect(found.alphaUpper / found.alpha - 1).toBeLessThan(1e-5);
	});

	it("finds each of its loops alone as robust as can be", () => {
		// One loop opened, the other closed: L = 1/s (same source).
		expect(analyseLoopFromTransferFunction({ num: [1], den: [1, 0] }).diskMargin!.alpha).toBeCloseTo(2, 9);
	});
});

describe("structured singular value", () => {
	it("lies between the spectral radius and the largest singular value, and both bounds meet", () => {
		let seed = 7;
		const random = (): number => {
			seed = (seed * 16807) % 2147483647;
			return (2 * seed) / 2147483647 - 1;
		};
		for (let trial = 0; trial < 12; trial++) {
			const re = Float64Array.from({ length: 9 }, random);
			const im = Float64Array.from({ length: 9 }, random);
			const { upper, lower } = structuredSingularValue(re, im, 3, true);
			expect(lower).toBeLessThanOrEqual(upper * (1 + 1e-7));
			expect(lower / upper).toBeGreaterThan(1 - 1e-5);
		}
	});

	it("of a matrix of rank one is the sum of |u_i v_i| (closed form)", () => {
		const u = [1, -2, 0.3];
		const v = [0.5, 0.1, 4];
		const re = Float64Array.from(u.flatMap((a) => v.map((b) => a * b)));
		const { upper } = structuredSingularValue(re, new Float64Array(9), 3);
		expect(upper).toBeCloseTo(0.5 + 0.2 + 1.2, 6);
	});
});
