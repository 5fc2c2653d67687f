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
import { createRandom } from "../../src/math/random.ts";

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
		for (const opened of [0, 1]) {
			const kept = 1 - opened;
			// u of the closed channel is -y of it: A - b c, seen from the opened channel.
			const { a, b, c } = satellite;
			const alone = stateSpace(CONTINUOUS, {
				a: [0, 1].map((i) => [0, 1].map((j) => a[2 * i + j]! - b[2 * i + kept]! * c[2 * kept + j]!)),
				b: [0, 1].map((i) => [b[2 * i + opened]!]),
				c: [[c[2 * opened]!, c[2 * opened + 1]!]],
			});
			const respond = createResponder(alone);
			const out = new Float64Array(2);
			const found = diskMargin(
				(w, re, im) => {
					respond(w, out);
					const size = (1 + out[0]!) ** 2 + out[1]! ** 2;
					re[0] = (1 + out[0]!) / size;
					im[0] = -out[1]! / size;
				},
				1,
				omega,
				0,
				{ infinity: 1 },
			);
			expect(found.alpha).toBeCloseTo(2, 9);
		}
	});

	it("finds its inputs and outputs together: published 0.0498, by the bound and by factors that reach it", () => {
		// Four channels, u and y: u = -y + d, y = P u + e with K = I, so S = [[I - T, -(I - T)], [T, I - T]], T = P (I + P)^-1.
		const closed = createResponder(closeLoop(satellite));
		const t = new Float64Array(8);
		const found = diskMargin(
			(w, re, im) => {
				closed(w, t);
				for (let i = 0; i < 2; i++)
					for (let j = 0; j < 2; j++) {
						const tr = t[2 * (2 * i + j)]!;
						const ti = t[2 * (2 * i + j) + 1]!;
						const own = i === j ? 1 : 0;
						const at = (row: number, column: number): number => 4 * (2 * row + i) + 2 * column + j;
						re[at(0, 0)] = own - tr;
						im[at(0, 0)] = -ti;
						re[at(0, 1)] = tr - own;
						im[at(0, 1)] = ti;
						re[at(1, 0)] = tr;
						im[at(1, 0)] = ti;
						re[at(1, 1)] = own - tr;
						im[at(1, 1)] = -ti;
					}
			},
			4,
			omega,
			0,
			{ infinity: 1 },
		);
		// Published to four digits. Another recomputation has 0.0498454; factors of size 0.04984464 that reach -1 exist.
		expect(Math.round(found.alpha * 1e4) / 1e4).toBe(0.0498);
		expect(Math.abs(found.alpha / 0.0498454 - 1)).toBeLessThan(2e-5);
		expect(found.alphaUpper / found.alpha - 1).toBeLessThan(1e-8);
		expect(found.alphaUpper / found.alpha).toBeGreaterThan(1 - 1e-9);
	});
});

describe("structured singular value", () => {
	it("lies between the spectral radius and the largest singular value, and both bounds meet", () => {
		const random = createRandom(7);
		for (let trial = 0; trial < 12; trial++) {
			const re = Float64Array.from({ length: 9 }, () => random.normal());
			const im = Float64Array.from({ length: 9 }, () => random.normal());
			const { upper, lower } = structuredSingularValue(re, im, 3);
			expect(lower).toBeLessThanOrEqual(upper * (1 + 1e-7));
			expect(lower / upper).toBeGreaterThan(1 - 1e-6);
		}
	});

	it("of more channels is kept between its two bounds", () => {
		const random = createRandom(3);
		for (const n of [4, 6]) {
			const re = Float64Array.from({ length: n * n }, () => random.normal());
			const im = Float64Array.from({ length: n * n }, () => random.normal());
			const { upper, lower } = structuredSingularValue(re, im, n);
			expect(lower).toBeLessThanOrEqual(upper * (1 + 1e-9));
			// Common experience with the bounds: a few per cent apart at most (no source).
			expect(lower / upper).toBeGreaterThan(0.9);
		}
	});

	it("of a matrix of rank one is the sum of |u_i v_i| (closed form)", () => {
		const u = [1, -2, 0.3];
		const v = [0.5, 0.1, 4];
		const re = Float64Array.from(u.flatMap((a) => v.map((b) => a * b)));
		const { upper } = structuredSingularValue(re, new Float64Array(9), 3);
		expect(upper).toBeCloseTo(0.5 + 0.2 + 1.2, 6);
	});

	it("of a triangular matrix is its largest diagonal entry", () => {
		const re = Float64Array.of(0.5, 3, -1, 0, 0.8, 2, 0, 0, 0.1);
		const { upper, lower } = structuredSingularValue(re, new Float64Array(9), 3);
		expect(upper / 0.8).toBeCloseTo(1, 4);
		expect(lower).toBeCloseTo(0.8, 12);
	});

	it.each([0, 7, 1.5])("refuses %f channels", (n) => {
		expect(() => structuredSingularValue(new Float64Array(49), new Float64Array(49), n)).toThrow(/1 to 6/);
	});
});
