import { describe, expect, it } from "vitest";
import {
	holdPattern,
	sampleAge,
	sensorPattern,
	worstFramePhase,
	worstSensorPhase,
} from "../../src/analysis/age-pattern.ts";

/** Ages found by playing the clocks microsecond by microsecond. */
function playedHold(period: number, phase: number, compute: number, tick: number, spanUs: number): number[] {
	let published = Number.NaN;
	let applied = Number.NaN;
	const underWay: [number, number][] = [];
	const ages: number[] = [];
	for (let t = 0; t < 3 * spanUs; t++) {
		if (t % tick === 0) underWay.push([t + compute, t]);
		while (underWay.length > 0 && underWay[0]![0] === t) published = underWay.shift()![1];
		if ((t - phase) % period === 0) applied = published;
		if (t >= 2 * spanUs) ages.push(t + 0.5 - applied);
	}
	return ages;
}

describe("age patterns", () => {
	it("hold: the mean of exp(-jw age) over time, played microsecond by microsecond", () => {
		const [period, phase, compute, tick] = [204, 7, 35, 200];
		const pattern = holdPattern(period, phase, compute, tick);
		const ages = playedHold(period, phase, compute, tick, 10200);
		const out = new Float64Array(2);
		for (const omega of [100, 1000, 5000]) {
			const mean = (f: (x: number) => number, list: number[]): number =>
				list.reduce((sum, age) => sum + f(omega * age * 1e-6), 0) / list.length;
			const ideal = Array.from({ length: tick }, (_, i) => i + 0.5);
			const [hr, hi] = [mean(Math.cos, ages), -mean(Math.sin, ages)];
			const [zr, zi] = [mean(Math.cos, ideal), -mean(Math.sin, ideal)];
			const size = zr * zr + zi * zi;
			pattern.respond(omega, out);
			expect(out[0]).toBeCloseTo((hr * zr + hi * zi) / size, 8);
			expect(out[1]).toBeCloseTo((hi * zr - hr * zi) / size, 8);
		}
		const meanAge = ages.reduce((a, b) => a + b, 0) / ages.length;
		expect(pattern.meanSec).toBeCloseTo((meanAge - tick / 2) * 1e-6, 12);
		expect(pattern.constant).toBe(false);
	});

	it("a frame that divides the loop's period is a pure delay", () => {
		const pattern = holdPattern(1000, 300, 100, 2000);
		expect(pattern.constant).toBe(true);
		expect(pattern.meanSec).toBeCloseTo(300e-6, 12);
		const out = new Float64Array(2);
		pattern.respond(900, out);
		expect(Math.atan2(out[1]!, out[0]!)).toBeCloseTo(-900 * 300e-6, 12);
		expect(Math.hypot(out[0]!, out[1]!)).toBeCloseTo(1, 12);
	});

	it("sensor: ages of what has arrived, a value arriving at the tick serves it", () => {
		expect(sampleAge(4000, 2000, 0, 0)).toBe(0);
		expect(sampleAge(4000, 2000, 0, 1)).toBe(2000);
		expect(sampleAge(4000, 10000, 0, 4000)).toBe(4000);
		const pattern = sensorPattern(10000, 0, 4000, 2000);
		// Ticks at 4, 6, 8, 10, 12 ms see ages 4, 6, 8, 10, 12 ms.
		expect(pattern.meanSec).toBeCloseTo(8e-3, 12);
		expect(pattern.constant).toBe(false);
		expect(sensorPattern(500, 100, 200, 2000)).toMatchObject({ constant: true });
	});

	it("a free phase gets the largest mean age of all phases", () => {
		for (const [period, other, latency] of [
			[2000, 2000, 300],
			[10000, 2000, 4100],
			[204, 200, 35],
		] as const) {
			const sensor = (phase: number): number => sensorPattern(period, phase, latency, other).meanSec;
			const hold = (phase: number): number => holdPattern(period, phase, latency, other).meanSec;
			const all = (f: (phase: number) => number): number =>
				Math.max(...Array.from({ length: period }, (_, p) => f(p)));
			expect(sensor(worstSensorPhase(period, latency, other))).toBeCloseTo(all(sensor), 12);
			expect(hold(worstFramePhase(period, latency, other))).toBeCloseTo(all(hold), 12);
		}
	});
});
