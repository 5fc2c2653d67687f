import { describe, expect, it } from "vitest";
import { gustShare, shearShare } from "../../src/flight/wind-field.ts";
import { createRandom } from "../../src/math/random.ts";
import { createDryden, drydenParameters } from "../../src/physics/dryden.ts";

const KNOT = 1852 / 3600;
const FOOT = 0.3048;

describe("Dryden turbulence, MIL-F-8785C low altitude", () => {
	it("has the specification's lengths and intensities at 20 ft in moderate turbulence (30 kt)", () => {
		const p = drydenParameters(30 * KNOT, 20 * FOOT, 5, 0.65);
		expect(p.lengthU).toBeCloseTo(43.765867, 6);
		expect(p.lengthW).toBeCloseTo(6.096, 9);
		expect(p.sigmaW).toBeCloseTo(1.543333, 6);
		expect(p.sigmaU).toBeCloseTo(2.977305, 6);
		expect(p.extrapolated).toBe(false);
	});
	it("holds height at 10 ft and speed at 1 m/s, and says so", () => {
		const p = drydenParameters(10, 1, 0, 0.65);
		expect(p.lengthW).toBeCloseTo(10 * FOOT, 12);
		expect(p.airspeedMPerSec).toBe(1);
		expect(p.extrapolated).toBe(true);
	});

	// Long record: 2e6 ticks of 20 ms at 8 m/s are some 7300 lengths of u. The error of a variance from N = record/length
	// independent samples is about sqrt(2/N) = 1.7 %; bounds are five of those for u, v and as much for the shorter w.
	const par = drydenParameters(30 * KNOT, 20 * FOOT, 8, 0.65);
	const tick = 0.02;
	const count = 2_000_000;
	const dryden = createDryden(par, tick, createRandom(2026));
	const record = [0, 1, 2, 3, 4, 5].map(() => new Float64Array(count));
	for (let i = 0; i < count; i++) {
		for (let k = 0; k < 6; k++) record[k]![i] = dryden.values[k]!;
		dryden.advance();
	}
	const covariance = (a: Float64Array, b: Float64Array, lag: number): number => {
		let sum = 0;
		for (let i = 0; i + lag < count; i++) sum += a[i]! * b[i + lag]!;
		return sum / (count - lag);
	};

	it("has variance sigma^2 in u, v and w", () => {
		[par.sigmaU, par.sigmaV, par.sigmaW].forEach((sigma, k) => {
			expect(Math.abs(covariance(record[k]!, record[k]!, 0) / sigma ** 2 - 1)).toBeLessThan(0.085);
		});
	});
	it("has autocorrelation exp(-x) in u and exp(-x)(1 - x/2) in v and w", () => {
		const lengths = [par.lengthU, par.lengthV, par.lengthW];
		for (const k of [0, 1, 2])
			for (const x of [0.25, 0.5, 1, 2, 3]) {
				const lag = Math.round((x * lengths[k]!) / (par.airspeedMPerSec * tick));
				const exact = (lag * par.airspeedMPerSec * tick) / lengths[k]!;
				const want = Math.exp(-exact) * (k === 0 ? 1 : 1 - exact / 2);
				const got = covariance(record[k]!, record[k]!, lag) / covariance(record[k]!, record[k]!, 0);
				expect(Math.abs(got - want)).toBeLessThan(0.06);
			}
	});
	it("has the specification's spectra: u, v and w by averaged periodograms", () => {
		const size = 4096;
		const { airspeedMPerSec: v } = par;
		const oneSided = [
			(w: number) => (par.sigmaU ** 2 * 2 * par.lengthU) / (Math.PI * v) / (1 + ((par.lengthU * w) / v) ** 2),
			(w: number) =>
				(((par.sigmaV ** 2 * par.lengthV) / (Math.PI * v)) * (1 + 3 * ((par.lengthV * w) / v) ** 2)) /
				(1 + ((par.lengthV * w) / v) ** 2) ** 2,
			(w: number) =>
				(((par.sigmaW ** 2 * par.lengthW) / (Math.PI * v)) * (1 + 3 * ((par.lengthW * w) / v) ** 2)) /
				(1 + ((par.lengthW * w) / v) ** 2) ** 2,
		];
		for (const k of [0, 1, 2])
			for (const bin of [8, 16, 40, 90]) {
				const w = (2 * Math.PI * bin) / (size * tick);
				let power = 0;
				let blocks = 0;
				for (let start = 0; start + size <= count; start += size) {
					let re = 0;
					let im = 0;
					for (let i = 0; i < size; i++) {
						const window = 1 - Math.cos((2 * Math.PI * i) / size);
						re += window * record[k]![start + i]! * Math.cos(w * i * tick);
						im += window * record[k]![start + i]! * Math.sin(w * i * tick);
					}
					power += re * re + im * im;
					blocks++;
				}
				// One-sided density per rad/s; a Hann window of mean square 3/2. 488 blocks: 4.5 % of scatter, bound three of it.
				const density = (power / blocks) * (tick / (Math.PI * 1.5 * size));
				expect(Math.abs(density / oneSided[k]!(w) - 1)).toBeLessThan(0.14);
			}
	});
	it("has the variance of the specification's p spectrum, and q, r as slopes of w and v behind their lags", () => {
		const b = par.spanM;
		const v = par.airspeedMPerSec;
		const level = ((par.sigmaW ** 2 * 0.8) / v) * (Math.PI / (4 * b)) ** (1 / 3) * par.lengthW ** (-2 / 3);
		const lag = (4 * b) / (Math.PI * v);
		const wantP = (level * Math.PI) / (2 * lag);
		expect(Math.abs(covariance(record[3]!, record[3]!, 0) / wantP - 1)).toBeLessThan(0.02);
		// Integral of (w/V)^2 Phi/(1 + (lag w)^2) over w in 0..infinity, by the midpoint rule in log w.
		const slopeVariance = (sigma: number, length: number, lagSec: number): number => {
			const steps = 20000;
			let sum = 0;
			for (let i = 0; i < steps; i++) {
				const w = Math.exp(-12 + (24 * (i + 0.5)) / steps);
				const t = (length * w) / v;
				const phi = ((sigma ** 2 * length) / (Math.PI * v)) * ((1 + 3 * t * t) / (1 + t * t) ** 2);
				sum += ((w / v) ** 2 * phi * w * 24) / steps / (1 + (lagSec * w) ** 2);
			}
			return sum;
		};
		const q = slopeVariance(par.sigmaW, par.lengthW, lag);
		const r = slopeVariance(par.sigmaV, par.lengthV, (3 * b) / (Math.PI * v));
		expect(Math.abs(covariance(record[4]!, record[4]!, 0) / q - 1)).toBeLessThan(0.02);
		expect(Math.abs(covariance(record[5]!, record[5]!, 0) / r - 1)).toBeLessThan(0.02);
		// q rises with w, r falls as v rises (a frozen field drifting past along x).
		const rise = (k: number): Float64Array =>
			record[k]!.map((value, i) => value - (record[k]![i - 1] ?? value));
		expect(covariance(rise(2), record[4]!, 0)).toBeGreaterThan(0);
		expect(covariance(rise(1), record[5]!, 0)).toBeLessThan(0);
	});
	it("is the same record for the same seed", () => {
		const again = createDryden(par, tick, createRandom(2026));
		for (let i = 0; i < 100; i++) again.advance();
		expect(again.values[2]).toBe(record[2]![100]);
	});
});

describe("gusts and shear", () => {
	it("rises as MIL-F-8785C's 1-cosine gust (from memory): 3.5 m/s over 120 m at 30 and 60 m", () => {
		// Vm/2 (1 - cos(pi x/dm)) crossed at 10 m/s: 12 s to the peak, which then holds.
		const gust = { atSec: 0, velocityMPerSec: [3.5, 0, 0] as const, riseSec: 12, ending: "holds" as const };
		expect(3.5 * gustShare(gust, 3)).toBeCloseTo(0.51256313, 8);
		expect(3.5 * gustShare(gust, 6)).toBeCloseTo(1.75, 12);
		expect(gustShare(gust, 100)).toBe(1);
	});
	it("returns to zero after twice the rise where it returns", () => {
		const gust = { atSec: 1, velocityMPerSec: [1, 0, 0] as const, riseSec: 2, ending: "returns" as const };
		expect(gustShare(gust, 3)).toBeCloseTo(1, 12);
		expect(gustShare(gust, 4)).toBeCloseTo(0.5, 12);
		expect(gustShare(gust, 5)).toBe(0);
		expect(gustShare(gust, 0.5)).toBe(0);
	});
	it("follows the log law: u(2)/u(10) = 0.72294744 at z0 = 0.03 m; MIL-F-8785C shear at 10 ft with z0 = 0.15 ft", () => {
		expect(shearShare(0.03, 2) / shearShare(0.03, 10)).toBeCloseTo(0.72294744, 8);
		expect(shearShare(0.15 * FOOT, 10 * FOOT)).toBeCloseTo(0.85833474, 8);
		expect(shearShare(0.03, 0)).toBe(0);
	});
});
