import { describe, expect, it } from "vitest";
import { analyseScalarLoop } from "../../src/analysis/scalar-loop.ts";
import {
	analyseLoopFromTransferFunction,
	describeTransferLoop,
	type TransferLoop,
} from "../../src/analysis/scalar-loop-transfer.ts";
import { createResponder } from "../../src/linear/frequency-response.ts";
import { CONTINUOUS } from "../../src/linear/state-space.ts";
import { toStateSpace, transferFunction } from "../../src/linear/transfer-function.ts";

interface Row {
	readonly source: string;
	readonly loop: TransferLoop;
	/** Ratio at rad/s. */
	readonly gain: readonly [number, number];
	readonly low?: true;
	readonly phase: readonly [number, number];
	readonly delay?: number;
	readonly ms?: number;
	readonly mt?: number;
	readonly alpha?: number;
	/** Relative; the values carry eight digits, recomputed independently. */
	readonly tolerance?: number;
}

const pi2 = Math.PI ** 2;
const rows: readonly Row[] = [
	{
		source:
			"3/(s+1)^3: Astrom and Murray, Feedback Systems (from memory); s_m is 5/11, not the 0.464 of many prints",
		loop: { num: [3], den: [1, 3, 3, 1] },
		gain: [8 / 3, Math.sqrt(3)],
		phase: [41.690326, 1.0392708],
		delay: 0.70013845,
		ms: 2.2,
		mt: 1.5797958971,
		alpha: 0.55205518,
	},
	{
		source: "1.4 e^-s/(s+1)^2: Astrom and Murray, Feedback Systems 2e, figure 10.4",
		loop: { num: [1.4], den: [1, 2, 1], delaySec: 1 },
		gain: [1.9336093, 1.3065424],
		phase: [79.139901, 0.63245553],
		delay: 2.1839509,
		ms: 2.2263993,
		mt: 1.3436813,
		alpha: 0.56949188,
	},
	{
		source: "1/(s(s+1)^2): Astrom and Murray, Feedback Systems 2e, figure 10.6",
		loop: { num: [1], den: [1, 2, 1, 0] },
		gain: [2, 1],
		phase: [21.38639, 0.6823278],
		delay: 0.54704339,
		ms: 3.3671304,
		mt: 2.8797972,
		alpha: 0.32656829,
	},
	{
		source: "1/(s(s+1)(s+2)): Gopal, Control Systems 2e, example 8.15",
		loop: { num: [1], den: [1, 3, 2, 0] },
		gain: [6, Math.SQRT2],
		phase: [53.410786, 0.44574796],
		delay: 2.0913031,
		ms: 1.5683807,
		mt: 1.1129291,
		alpha: 0.8515173,
	},
	{
		source: "25/(s^3+10s^2+10s+10): tests of python-control",
		loop: { num: [25], den: [1, 10, 10, 10] },
		gain: [3.6, 3.1622777],
		phase: [29.110369, 1.7844356],
		delay: 0.28472408,
		ms: 2.4866599,
		mt: 2.0560585,
		alpha: 0.45809255,
	},
	{
		source: "0.5 e^-s/s: Skogestad, J. Process Control 13 (2003), SIMC",
		loop: { num: [0.5], den: [1, 0], delaySec: 1 },
		gain: [Math.PI, Math.PI / 2],
		phase: [61.35211, 0.5],
		delay: 2.1415927,
		ms: 1.5904902,
		mt: 1,
		alpha: 0.88324631,
	},
	{
		source: "(s+0.1)^2/(s^3(s+1)): tests of python-control",
		loop: { num: [1, 0.2, 0.01], den: [1, 1, 0, 0, 0] },
		gain: [0.0625, 0.1118034],
		low: true,
		phase: [37.174633, 0.79511248],
	},
	{
		source: "2/(s(s+1)(s+2)) held at 0.01 s: tests of python-control",
		loop: { num: [2], den: [1, 3, 2, 0], sampleTimeSec: 0.01, hold: "zoh" },
		gain: [2.9557614, 1.4037246],
		phase: [32.398492, 0.74936709],
		ms: 1 / 0.42953455,
	},
	{
		source: "1.1 4pi^2/(s^2+0.8pi s+4pi^2) held at 0.05 s: tests of python-control",
		loop: { num: [4.4 * pi2], den: [1, 0.8 * Math.PI, 4 * pi2], sampleTimeSec: 0.05, hold: "zoh" },
		gain: [2.3841963, 11.711872],
		phase: [18.161036, 8.7477719],
	},
	{
		source: "1/(z-1) at 0.01 s: tests of python-control",
		loop: { num: [1], den: [1, -1], sampleTimeSec: 0.01, discrete: true },
		gain: [2, 100 * Math.PI],
		phase: [60, 104.71976],
		delay: 0.01,
	},
	{
		source: "SIMC on e^-s/s with PI (0.5, 8): Skogestad 2003",
		loop: { num: [4, 0.5], den: [8, 0, 0], delaySec: 1 },
		gain: [2.9634022, Number.NaN],
		phase: [46.864287, Number.NaN],
		ms: 1.7035217,
	},
	{
		source: "SIMC on e^-s/s^2 with series PID (0.0625, 8, 8): Skogestad 2003",
		loop: { num: [4, 1, 0.0625], den: [8, 0, 0, 0], delaySec: 1 },
		gain: [2.7609879, Number.NaN],
		phase: [33.109398, Number.NaN],
		ms: 1.9588185,
	},
	{
		source: "3 e^(-0.25 s)/s: McRuer's crossover model, AGARD-AG-188, 1974",
		loop: { num: [3], den: [1, 0], delaySec: 0.25 },
		gain: [2.094395, Number.NaN],
		phase: [47.028165, 3],
	},
];

const near = (value: number | null, expected: number, tolerance = 5e-8): void => {
	expect(value).not.toBeNull();
	expect(Math.abs(value! / expected - 1), `${value} for ${expected}`).toBeLessThan(tolerance);
};

describe("margins of published loops", () => {
	it.each(rows)("$source", (row) => {
		const found = analyseLoopFromTransferFunction(row.loop);
		expect(found.stable).toBe(true);
		const gain = row.low ? found.gainMarginDownDb : found.gainMarginUpDb;
		near(10 ** ((row.low ? -1 : 1) * (gain.value! / 20)), row.gain[0], 6e-8);
		if (!Number.isNaN(row.gain[1])) near(gain.radPerSec, row.gain[1], 6e-8);
		near(found.phaseMarginDeg.value, row.phase[0], 6e-8);
		if (!Number.isNaN(row.phase[1])) near(found.phaseMarginDeg.radPerSec, row.phase[1], 6e-8);
		if (row.delay !== undefined) near(found.delayMarginSec.value, row.delay, 6e-8);
		if (row.ms !== undefined) near(found.ms.value, row.ms, 6e-8);
		if (row.mt !== undefined) near(found.mt.value, row.mt, 6e-8);
		if (row.alpha !== undefined) near(found.diskMargin!.alpha, row.alpha, 6e-8);
	});

	const continuous = rows.filter((row) => row.loop.sampleTimeSec === undefined);
	it.each(continuous)("through state space: $source", (row) => {
		const { num, den, delaySec = 0 } = row.loop;
		const described = describeTransferLoop(row.loop);
		const answer = createResponder(toStateSpace(transferFunction(CONTINUOUS, num, den)));
		const found = analyseScalarLoop({
			...described,
			respond: (w, out) => {
				answer(w, out);
				const [re, im] = [out[0]!, out[1]!];
				const c = Math.cos(w * delaySec);
				const s = -Math.sin(w * delaySec);
				out[0] = re * c - im * s;
				out[1] = re * s + im * c;
			},
		});
		const gain = row.low ? found.gainMarginDownDb : found.gainMarginUpDb;
		near(10 ** ((row.low ? -1 : 1) * (gain.value! / 20)), row.gain[0], 6e-8);
		near(found.phaseMarginDeg.value, row.phase[0], 6e-8);
		if (!Number.isNaN(row.phase[1])) near(found.phaseMarginDeg.radPerSec, row.phase[1], 6e-8);
		if (row.delay !== undefined) near(found.delayMarginSec.value, row.delay, 6e-8);
		if (row.ms !== undefined) near(found.ms.value, row.ms, 6e-8);
		if (row.mt !== undefined) near(found.mt.value, row.mt, 6e-8);
	});

	it("gives attitude bandwidth and phase delay of e^-0.04s/(s(0.05s+1)) (ADS-33E-PRF, from memory)", () => {
		// Turned by 45 degrees, the phase crossing is where the phase is -135 degrees.
		const loop = describeTransferLoop({ num: [1], den: [0.05, 1, 0], delaySec: 0.04 });
		const crossingTurned = (degrees: number): number => {
			const c = Math.cos((degrees * Math.PI) / 180);
			const s = -Math.sin((degrees * Math.PI) / 180);
			const found = analyseScalarLoop({
				...loop,
				respond: (w, out) => {
					loop.respond(w, out);
					const [re, im] = [out[0]!, out[1]!];
					out[0] = re * c - im * s;
					out[1] = re * s + im * c;
				},
			});
			return found.crossings.find((crossing) => crossing.kind === "phase")!.radPerSec;
		};
		const w180 = crossingTurned(0);
		near(w180, 19.77584131, 1e-9);
		near(crossingTurned(45), 9.03119629, 1e-9);
		const out = new Float64Array(2);
		loop.respond(2 * w180, out);
		// The phase there is between -360 and -180 degrees; tau_p = what it is past -180 over (57.3 x 2 w180).
		const past = 180 - (Math.atan2(out[1]!, out[0]!) * 180) / Math.PI;
		expect(past / (57.3 * 2 * w180)).toBeCloseTo(0.02816098, 8);
	});

	it("reports both sides of SIMC on the double integrator", () => {
		const found = analyseLoopFromTransferFunction({ num: [4, 1, 0.0625], den: [8, 0, 0, 0], delaySec: 1 });
		near(10 ** (-found.gainMarginDownDb.value! / 20), 0.16531632);
	});

	it("lists the crossings of an unstable loop and calls its margins undefined (Gopal 2e, example 8.14)", () => {
		const found = analyseLoopFromTransferFunction({ num: [100], den: [0.02, 0.3, 1, 0] });
		expect(found.stable).toBe(false);
		expect(found.gainMarginUpDb).toMatchObject({ value: null, verdict: "undefined" });
		const [phase, gain] = found.crossings;
		expect(phase!.kind === "phase" && 10 ** (phase!.marginDb / 20)).toBeCloseTo(0.15, 10);
		near(phase!.radPerSec, 7.0710678);
		expect(gain!.kind === "gain" && gain!.marginDeg).toBeCloseTo(-40.447715, 6);
		near(gain!.radPerSec, 15.926899);
	});

	it("takes the least delay over all crossovers (test_analysis of ControlSystems.jl)", () => {
		// Two-mass drive: J 1, 1, spring 100, dampers 1 (motor), 1 (load), 1 (coupling); motor torque to motor position.
		const [c0, c1, c2, k] = [1, 1, 1, 100];
		const num = [1, c1 + c2, k];
		const motor = [1, c0 + c2, k];
		const product = [
			1,
			motor[1]! + num[1]!,
			motor[2]! + num[2]! + motor[1]! * num[1]!,
			motor[1]! * num[2]! + motor[2]! * num[1]!,
			motor[2]! * num[2]!,
		];
		const coupling = [c2 * c2, 2 * c2 * k, k * k];
		const den = product.map((v, i) => v - (coupling[i - 2] ?? 0));
		den[4] = 0;
		const lag = [0.002, 1];
		const full = [0, 0, 0, 0, 0, 0];
		den.forEach((v, i) => {
			full[i]! += v * lag[0]!;
			full[i + 1]! += v * lag[1]!;
		});
		const found = analyseLoopFromTransferFunction({ num: num.map((v) => 100 * v), den: full });
		expect(found.stable).toBe(true);
		expect(found.crossings.filter((c) => c.kind === "gain").length).toBeGreaterThan(1);
		near(found.delayMarginSec.value, 0.0374335, 2e-6);
	});

	it.each([
		[1.4, 3.5, 41.8496649],
		[2, 2, 28.9550244],
	])("Ms %f promises a gain margin of %f and %f degrees", (ms, gain, phase) => {
		expect(ms / (ms - 1)).toBeCloseTo(gain, 10);
		expect((2 * Math.asin(1 / (2 * ms)) * 180) / Math.PI).toBeCloseTo(phase, 7);
		for (const row of rows.filter((r) => !r.low)) {
			const found = analyseLoopFromTransferFunction(row.loop);
			const peak = found.ms.value!;
			expect(10 ** (found.gainMarginUpDb.value! / 20)).toBeGreaterThan((peak / (peak - 1)) * (1 - 1e-9));
			expect(found.phaseMarginDeg.value!).toBeGreaterThan(
				((2 * Math.asin(1 / (2 * peak)) * 180) / Math.PI) * (1 - 1e-9),
			);
		}
	});
});
