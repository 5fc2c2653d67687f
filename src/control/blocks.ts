import type { Block } from "./block.ts";
import type { FilterSpec } from "./spec.ts";

/**
 * The linear blocks that control loops here are built from. Filters are the bilinear transform of their
 * continuous form, prewarped so that the named frequency is exact (Oppenheim and Schafer, Discrete-Time
 * Signal Processing, section 7.1; from memory). T is the spacing of samples in seconds.
 */

/** K/(s+K) at cutoff: -3 dB exactly there. */
export function lowPass1(cutoffHz: number, periodSec: number): Block {
	const k = prewarp("cutoffHz", cutoffHz, periodSec);
	const b = k / (1 + k);
	return { numerators: [[b, b]], denominator: [1, (k - 1) / (1 + k)] };
}

/** wn^2/(s^2 + 2 damping wn s + wn^2). At wn the gain is 1/(2 damping), phase -90 degrees. */
export function lowPass2(cutoffHz: number, damping: number, periodSec: number): Block {
	const k = prewarp("cutoffHz", cutoffHz, periodSec);
	requirePositive("damping", damping);
	const a0 = 1 + 2 * damping * k + k * k;
	const b = (k * k) / a0;
	return {
		numerators: [[b, 2 * b, b]],
		denominator: [1, (2 * (k * k - 1)) / a0, (1 - 2 * damping * k + k * k) / a0],
	};
}

/**
 * Zero at the centre, -3 dB at two frequencies exactly `widthHz` apart, gain 1 at 0 and at the Nyquist frequency
 * (Orfanidis, Introduction to Signal Processing, section 11.3; from memory).
 */
export function notch(centreHz: number, widthHz: number, periodSec: number): Block {
	prewarp("centreHz", centreHz, periodSec);
	const b = 1 / (1 + prewarp("widthHz", widthHz, periodSec));
	const cosine = Math.cos(2 * Math.PI * centreHz * periodSec);
	return { numerators: [[b, -2 * b * cosine, b]], denominator: [1, -2 * b * cosine, 2 * b - 1] };
}

/** Running sum, this sample included: T/(1 - z^-1). */
export function integrator(periodSec: number): Block {
	requirePositive("periodSec", periodSec);
	return { numerators: [[periodSec]], denominator: [1, -1] };
}

/** (1 - a)/(1 - a z^-1), a = exp(-2 pi f T): the exact discretisation of a first-order lag behind a hold. */
export function expLowPass(cutoffHz: number, periodSec: number): Block {
	const a = filterDecay(cutoffHz, periodSec);
	return { numerators: [[1 - a]], denominator: [1, -a] };
}

/** The difference over T through `expLowPass`: (1 - a)(1 - z^-1)/(T (1 - a z^-1)). */
export function filteredDerivative(cutoffHz: number, periodSec: number): Block {
	const a = filterDecay(cutoffHz, periodSec);
	const g = (1 - a) / periodSec;
	return { numerators: [[g, -g]], denominator: [1, -a] };
}

/** z^-k, k whole samples. */
export function delay(samples: number): Block {
	if (!Number.isInteger(samples) || samples < 0)
		throw new RangeError(`delay: samples ${samples}, expected a whole number >= 0`);
	return { numerators: [[...new Array<number>(samples).fill(0), 1]], denominator: [1] };
}

/** Numbers of a PID core, in any consistent units. */
export interface PidNumbers {
	readonly kp: number;
	readonly ki: number;
	readonly kd: number;
	readonly kff: number;
	readonly setPointWeight: number;
	readonly derivativeCutoffHz: number;
}

/** P with set-point weight, I, filtered D on the measurement, feed-forward. Inputs: set-point, measurement. */
export function pidCore(k: PidNumbers, periodSec: number): Block {
	requirePositive("periodSec", periodSec);
	const a = filterDecay(k.derivativeCutoffHz, periodSec);
	const p = k.kp * k.setPointWeight + k.kff;
	const i = k.ki * periodSec;
	const d = (k.kd * (1 - a)) / periodSec;
	return {
		numerators: [
			[p + i, -p * (1 + a) - i * a, p * a],
			[-(k.kp + i + d), k.kp * (1 + a) + i * a + 2 * d, -k.kp * a - d],
		],
		denominator: [1, -(1 + a), a],
	};
}

/** The gyro filters of a gain set as blocks. */
export function filterBlock(spec: FilterSpec, periodSec: number): Block {
	switch (spec.kind) {
		case "lowPass1":
			return lowPass1(spec.cutoffHz, periodSec);
		case "lowPass2":
			return lowPass2(spec.cutoffHz, spec.damping, periodSec);
		case "notch":
			return notch(spec.centreHz, spec.widthHz, periodSec);
	}
}

/** a = exp(-2 pi f T) */
function filterDecay(cutoffHz: number, periodSec: number): number {
	requirePositive("cutoffHz", cutoffHz);
	requirePositive("periodSec", periodSec);
	return Math.exp(-2 * Math.PI * cutoffHz * periodSec);
}

/** tan(pi f T), for 0 < f < 1/(2T). */
function prewarp(name: string, hz: number, periodSec: number): number {
	requirePositive("periodSec", periodSec);
	if (!(hz > 0 && hz * periodSec < 0.5))
		throw new RangeError(
			`${name}: ${hz} Hz, expected between 0 and half the sample rate ${0.5 / periodSec} Hz`,
		);
	return Math.tan(Math.PI * hz * periodSec);
}

function requirePositive(name: string, value: number): void {
	if (!(value > 0 && Number.isFinite(value))) throw new RangeError(`${name}: ${value}, expected above 0`);
}

/** Every block with sample numbers, for the conformance test: a new block is added here and so is checked. */
export const BLOCK_REGISTRY: Readonly<Record<string, (periodSec: number) => Block>> = {
	lowPass1: (t) => lowPass1(0.11 / t, t),
	lowPass2: (t) => lowPass2(0.15 / t, 0.7, t),
	notch: (t) => notch(0.2 / t, 0.04 / t, t),
	integrator,
	expLowPass: (t) => expLowPass(0.06 / t, t),
	filteredDerivative: (t) => filteredDerivative(0.08 / t, t),
	delay0: () => delay(0),
	delay3: () => delay(3),
	pidCore: (t) =>
		pidCore(
			{ kp: 0.4, ki: 0.02 / t, kd: 0.8 * t, kff: 0.05, setPointWeight: 0.7, derivativeCutoffHz: 0.08 / t },
			t,
		),
};
