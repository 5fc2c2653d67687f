/** A number, or null with the reason. */
export type Metric =
	| { readonly value: number; readonly why?: undefined }
	| { readonly value: null; readonly why: string };

export interface StepInput {
	/** Rising, seconds; the step happens at `stepSec`. */
	readonly timeSec: ArrayLike<number>;
	readonly response: ArrayLike<number>;
	readonly stepSec?: number;
	/** Value before the step, and the one asked for; must differ. */
	readonly from: number;
	readonly to: number;
}

export interface StepMetrics {
	/** Of the step, beyond `to`; 0 when it never gets there. */
	readonly overshootPct: number;
	/** Of the step, the wrong way beyond `from`. */
	readonly undershootPct: number;
	/** 10 to 90 % of the step, first passages. */
	readonly riseTimeSec: Metric;
	/** Time of the largest value after the step; null when nothing passes `to`. */
	readonly peakTimeSec: Metric;
	/** After which |response - to| stays within the share of the step: the last crossing. */
	readonly settlingTime2Sec: Metric;
	readonly settlingTime5Sec: Metric;
	/** to - mean of the last tenth of the record after the step. */
	readonly steadyStateError: number;
	/** Integral of |to - response|, and of that times the time since the step; trapezoids. */
	readonly iae: number;
	readonly itae: number;
}

/**
 * Step figures of a trace, interpolated between samples: passages by straight lines, the peak by a parabola
 * through three samples.
 * @throws RangeError on fewer than three samples after the step, unequal lengths or a zero step.
 */
export function stepMetrics(input: StepInput): StepMetrics {
	const { from, to, stepSec = 0 } = input;
	if (!(Number.isFinite(from) && Number.isFinite(to) && from !== to))
		throw new RangeError(`stepMetrics: from ${from} to ${to}, expected two different finite numbers`);
	const { t, v } = after("stepMetrics", input.timeSec, input.response, stepSec);
	const y = v.map((x) => (x - from) / (to - from));
	const top = extreme(t, y);
	const bottom = extreme(
		t,
		y.map((x) => -x),
	);
	const ten = firstPassage(t, y, 0.1);
	const ninety = firstPassage(t, y, 0.9);
	const errors = v.map((x) => to - x);
	return {
		overshootPct: 100 * Math.max(0, top.value - 1),
		undershootPct: 100 * Math.max(0, bottom.value),
		riseTimeSec:
			ten === null || ninety === null
				? { value: null, why: `reaches ${(100 * top.value).toFixed(1)} % of the step, not 90 %` }
				: { value: ninety - ten },
		peakTimeSec:
			top.value > 1 && top.inside
				? { value: top.time }
				: { value: null, why: "no peak beyond the set-point" },
		settlingTime2Sec: settling(t, y, 0.02),
		settlingTime5Sec: settling(t, y, 0.05),
		steadyStateError: tailMean(t, errors),
		iae: integral(t, errors, () => 1),
		itae: integral(t, errors, (s) => s),
	};
}

export interface DisturbanceMetrics {
	/** Largest |deviation| and when, seconds after the start. */
	readonly peakDeviation: number;
	readonly peakTimeSec: number;
	/** After which |deviation| stays within `band`. */
	readonly recoverySec: Metric;
	readonly iae: number;
}

/** How a held value answers a disturbance that starts at `startSec`; `band` in the response's unit. */
export function disturbanceMetrics(input: {
	readonly timeSec: ArrayLike<number>;
	readonly response: ArrayLike<number>;
	readonly startSec?: number;
	readonly target: number;
	readonly band: number;
}): DisturbanceMetrics {
	if (!(input.band > 0)) throw new RangeError(`disturbanceMetrics: band ${input.band}, expected above 0`);
	const { t, v } = after("disturbanceMetrics", input.timeSec, input.response, input.startSec ?? 0);
	const deviation = v.map((x) => x - input.target);
	const up = extreme(t, deviation);
	const down = extreme(
		t,
		deviation.map((x) => -x),
	);
	const peak = up.value >= down.value ? up : down;
	return {
		peakDeviation: peak.value,
		peakTimeSec: peak.time,
		recoverySec: settling(
			t,
			deviation.map((x) => 1 + x / input.band),
			1,
		),
		iae: integral(t, deviation, () => 1),
	};
}

/** Of a record after its start: a peak takes three. */
export const LEAST_SAMPLES = 3;

interface AfterStep {
	/** Seconds since the step. */
	readonly t: readonly number[];
	readonly v: readonly number[];
}

function after(where: string, time: ArrayLike<number>, values: ArrayLike<number>, start: number): AfterStep {
	if (time.length !== values.length)
		throw new RangeError(`${where}: ${time.length} times and ${values.length} values, expected as many`);
	const t: number[] = [];
	const v: number[] = [];
	for (let i = 0; i < time.length; i++) {
		if (time[i]! < start) continue;
		if (!Number.isFinite(values[i]!))
			throw new RangeError(`${where}: value ${values[i]} at ${time[i]} s, expected finite numbers`);
		t.push(time[i]! - start);
		v.push(values[i]!);
	}
	if (t.length < LEAST_SAMPLES)
		throw new RangeError(
			`${where}: ${t.length} samples from ${start} s on, expected at least ${LEAST_SAMPLES}`,
		);
	return { t, v };
}

function firstPassage(t: readonly number[], y: readonly number[], level: number): number | null {
	if (y[0]! >= level) return t[0]!;
	for (let i = 1; i < y.length; i++) if (y[i]! >= level) return passage(t, y, i, level);
	return null;
}

const passage = (t: readonly number[], y: readonly number[], i: number, level: number): number =>
	t[i - 1]! + ((level - y[i - 1]!) / (y[i]! - y[i - 1]!)) * (t[i]! - t[i - 1]!);

function settling(t: readonly number[], y: readonly number[], band: number): Metric {
	const last = y.length - 1;
	const off = (i: number): number => Math.abs(y[i]! - 1);
	if (off(last) > band)
		return { value: null, why: `still ${(off(last) / band).toFixed(2)} bands away when the record ends` };
	for (let i = last; i > 0; i--) {
		if (off(i - 1) <= band) continue;
		return { value: passage(t, y, i, y[i - 1]! > 1 ? 1 + band : 1 - band) };
	}
	return { value: 0 };
}

/** Largest value, by the parabola through the largest sample and its neighbours. */
function extreme(
	t: readonly number[],
	y: readonly number[],
): { value: number; time: number; inside: boolean } {
	let k = 0;
	for (let i = 1; i < y.length; i++) if (y[i]! > y[k]!) k = i;
	if (k === 0 || k === y.length - 1) return { value: y[k]!, time: t[k]!, inside: false };
	const a = t[k - 1]! - t[k]!;
	const b = t[k + 1]! - t[k]!;
	const p = y[k - 1]! - y[k]!;
	const q = y[k + 1]! - y[k]!;
	const curve = (q / b - p / a) / (b - a);
	const slope = p / a - curve * a;
	if (!(curve < 0)) return { value: y[k]!, time: t[k]!, inside: true };
	const at = Math.max(a, Math.min(b, -slope / (2 * curve)));
	return { value: y[k]! + slope * at + curve * at * at, time: t[k]! + at, inside: true };
}

function tailMean(t: readonly number[], errors: readonly number[]): number {
	const from = t[t.length - 1]! - 0.1 * (t[t.length - 1]! - t[0]!);
	let sum = 0;
	let count = 0;
	for (let i = 0; i < t.length; i++) {
		if (t[i]! < from) continue;
		sum += errors[i]!;
		count++;
	}
	return sum / count;
}

/** Integral of |e| weight(t); an interval over which e changes sign is split at its zero. */
function integral(t: readonly number[], e: readonly number[], weight: (s: number) => number): number {
	let sum = 0;
	for (let i = 1; i < t.length; i++) {
		const a = e[i - 1]!;
		const b = e[i]!;
		const fa = Math.abs(a) * weight(t[i - 1]!);
		const fb = Math.abs(b) * weight(t[i]!);
		const h = t[i]! - t[i - 1]!;
		if (a * b >= 0) sum += ((fa + fb) * h) / 2;
		else {
			const share = a / (a - b);
			sum += (fa * share * h) / 2 + (fb * (1 - share) * h) / 2;
		}
	}
	return sum;
}

export interface ActuatorMetrics {
	/** Root mean square of the change of command between samples, over all columns. */
	readonly activityRms: number;
	/** Least distance of any command to either limit; negative: beyond. */
	readonly leastHeadroom: number;
}

/** @param commands one column per actuator, equally long, at least two samples. */
export function actuatorMetrics(
	commands: readonly ArrayLike<number>[],
	lowest: number,
	highest: number,
): ActuatorMetrics {
	const length = commands[0]?.length ?? 0;
	if (length < 2 || commands.some((c) => c.length !== length))
		throw new RangeError(
			`actuatorMetrics: ${length} samples, expected 2 or more and as many in every column`,
		);
	let changes = 0;
	let headroom = Number.POSITIVE_INFINITY;
	for (let i = 0; i < length; i++) {
		let here = Number.POSITIVE_INFINITY;
		for (const column of commands) {
			here = Math.min(here, column[i]! - lowest, highest - column[i]!);
			if (i > 0) changes += (column[i]! - column[i - 1]!) ** 2;
		}
		headroom = Math.min(headroom, here);
	}
	return {
		activityRms: Math.sqrt(changes / ((length - 1) * commands.length)),
		leastHeadroom: headroom,
	};
}
