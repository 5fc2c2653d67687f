import { describe, expect, it } from "vitest";
import { analyseLoopFromTransferFunction } from "../../src/analysis/scalar-loop-transfer.ts";
import { seriesToStandard, standardToParallel, standardToSeries } from "../../src/handover/pid-forms.ts";

// Astrom, Panagopoulos and Hagglund, Automatica 34 (1998) 585-601 (table from memory; optimum recomputed).
describe("PI with the most integral gain under a limit on Ms", () => {
	it.each([
		["1/(s+1)^3", [1, 3, 3, 1], 0, 1.4, 0.63242, 1.944],
		["1/(s+1)^3", [1, 3, 3, 1], 0, 2, 1.22232, 1.7839],
		["e^-s/s", [1, 0], 1, 1.4, 0.28219, 6.74552],
		["e^-s/s", [1, 0], 1, 1.6, 0.3686, 5.07382],
	] as const)("%s: %j, delay %f, Ms %f at K %f, Ti %f", (_, den, delaySec, limit, gain, time) => {
		const ms = (k: number, ki: number): number =>
			analyseLoopFromTransferFunction({ num: [k, ki], den: [...den, 0], delaySec }).ms.value ?? Infinity;
		const best = gain / time;
		expect(Math.abs(ms(gain, best) - limit)).toBeLessThan(2e-4);
		// No gain near it (the constrained set's edge is flat there) allows 0.1 % more integral gain.
		for (let share = 0.9; share < 1.1; share += 0.01)
			expect(ms(gain * share, 1.001 * best)).toBeGreaterThan(limit);
	});
});

it("a relay on e^-s/(s+1) swings 1 - 1/e at period 2 ln(2e - 1) (closed form)", () => {
	// From event to event: a change of relay acts 1 s later; between those x runs exactly as target + (x - target) e^-t.
	let x = 0.3;
	let t = 0;
	let arrived = 1;
	let relay = 1;
	let pending: { at: number; value: number } | null = null;
	let top = 0;
	const rises: number[] = [];
	while (rises.length < 20) {
		const zero = (0 - arrived) / (x - arrived);
		const toZero = x !== 0 && zero > 0 && zero < 1 ? -Math.log(zero) : Number.POSITIVE_INFINITY;
		const toChange = pending ? pending.at - t : Number.POSITIVE_INFINITY;
		const step = Math.min(toZero, toChange);
		if (!Number.isFinite(step)) {
			// Heading away from 0 before the first change: the relay turns at once.
			relay = x > 0 ? -1 : 1;
			pending = { at: t + 1, value: relay };
			continue;
		}
		t += step;
		if (step === toChange) {
			x = arrived + (x - arrived) * Math.exp(-step);
			arrived = pending!.value;
			pending = null;
			if (rises.length > 10) top = Math.max(top, Math.abs(x));
		} else {
			x = 0;
			relay = arrived > 0 ? -1 : 1;
			if (arrived > 0) rises.push(t);
			pending = { at: t + 1, value: relay };
		}
	}
	expect(top).toBeCloseTo(0.63212056, 8);
	expect(top).toBeCloseTo(1 - Math.exp(-1), 12);
	const period = rises[19]! - rises[18]!;
	expect(period).toBeCloseTo(2.97976025, 8);
	expect(period).toBeCloseTo(2 * Math.log(2 * Math.E - 1), 12);
});

describe("conversions of PID forms", () => {
	// Skogestad, J. Process Control 13 (2003): f = 1 + TD/TI; Kc f, TI + TD, TD/f.
	it("series SIMC settings for k'' e^-ts/s^2 in ideal form keep their published margins", () => {
		const ideal = seriesToStandard({ kp: 0.0625, ti: 8, td: 8 });
		expect(ideal).toEqual({ kp: 0.125, ti: 16, td: 4 });
		const { kp, ki, kd } = standardToParallel(ideal);
		const found = analyseLoopFromTransferFunction({ num: [kd, kp, ki], den: [1, 0, 0, 0], delaySec: 1 });
		expect(10 ** (found.gainMarginUpDb.value! / 20)).toBeCloseTo(2.7609879, 7);
		expect(10 ** (-found.gainMarginDownDb.value! / 20)).toBeCloseTo(0.16531632, 8);
		expect(found.phaseMarginDeg.value).toBeCloseTo(33.109398, 6);
		expect(found.ms.value).toBeCloseTo(1.9588185, 7);
	});
	it("standard (2, 3, 0.5) is parallel (2, 2/3, 1) and has a series form; Ti < 4 Td has none", () => {
		expect(standardToParallel({ kp: 2, ti: 3, td: 0.5 })).toEqual({ kp: 2, ki: 2 / 3, kd: 1 });
		const series = standardToSeries({ kp: 2, ti: 3, td: 0.5 })!;
		// Kc (1 + 1/(TI s)) (1 + TD s) at s = j w is kp (1 + 1/(Ti s) + Td s).
		expect(series.kp * (1 + series.td / series.ti!)).toBeCloseTo(2, 12);
		expect(series.kp / series.ti!).toBeCloseTo(2 / 3, 12);
		expect(series.kp * series.td).toBeCloseTo(1, 12);
		expect(standardToSeries({ kp: 1, ti: 4, td: 1 })).toEqual({ kp: 0.5, ti: 2, td: 2 });
		expect(standardToSeries({ kp: 1, ti: 3.999, td: 1 })).toBeNull();
	});
});
