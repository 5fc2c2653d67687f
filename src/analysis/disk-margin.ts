import { findMinimum } from "../math/search.ts";
import { quickSingularValue, scaledSingularValue, structuredSingularValue } from "./disk-margin-mu.ts";

/**
 * Disk margin (Seiler, Packard and Gahinet, IEEE Control Systems Magazine 40(5), 2020): the loop stays stable while
 * every opened channel is multiplied by any complex factor from the disk of size alpha and skew sigma, at once.
 */
export interface DiskMargin {
	readonly alpha: number;
	readonly sigma: number;
	/** Where the least alpha is; 0 and Infinity are the ends of the axis. */
	readonly radPerSec: number;
	/** Real gain factors borne: from gainMin (below 0: even a sign change) to gainMax (Infinity: any). */
	readonly gainMin: number;
	readonly gainMax: number;
	/** Phase borne either way. */
	readonly phaseDeg: number;
	/** 1/mu from below, for one channel equal to alpha; the truth lies between alpha and this. */
	readonly alphaUpper: number;
}

/** The disk of this size in gains and phase. */
function diskOf(alpha: number, sigma: number): { gainMin: number; gainMax: number; phaseDeg: number } {
	const a = 2 - alpha * (1 - sigma);
	const b = 2 + alpha * (1 + sigma);
	const c = 2 + alpha * (1 - sigma);
	const d = 2 - alpha * (1 + sigma);
	const cosine = (b * d + a * c) / (a * d + b * c);
	return {
		gainMin: a / b,
		gainMax: d > 1e-12 ? c / d : Number.POSITIVE_INFINITY,
		phaseDeg: (Math.acos(Math.max(-1, Math.min(1, cosine))) * 180) / Math.PI,
	};
}

/** S(omega) = (I + L)^-1 of a stable loop, n x n row-major. */
export type SensitivityResponse = (omegaRadPerSec: number, re: Float64Array, im: Float64Array) => void;

/** Summits this far below the highest on the grid are looked at too. */
const NEAR = 0.9;

/**
 * alpha = 1 / max over omega of mu(S + (sigma-1)/2 I), mu for independent complex factors in 1 to 6 channels. Beyond three, alpha
 * is what D scaling can promise and the truth may be larger, up to `alphaUpper`.
 *
 * One singular value per frequency bounds mu there; only where that bound is near the highest mu known is the exact search made.
 * @param omega rising frequencies dense enough to hold every peak; the best ones are refined between neighbours.
 * @param ends S at frequency 0 or infinity where known (as n x n diagonal value), such as 1 at infinity.
 */
export function diskMargin(
	sensitivity: SensitivityResponse,
	channels: number,
	omega: ArrayLike<number>,
	sigma = 0,
	ends: { readonly infinity?: number; readonly zero?: number } = {},
): DiskMargin {
	const size = channels * channels;
	const re = new Float64Array(size);
	const im = new Float64Array(size);
	const shift = (sigma - 1) / 2;
	const load = (w: number): void => {
		sensitivity(w, re, im);
		for (let i = 0; i < channels; i++) re[i * channels + i]! += shift;
	};
	const mu = (w: number, unlessAbove = 0): number => {
		load(w);
		return scaledSingularValue(re, im, channels, unlessAbove);
	};
	const values = Float64Array.from({ length: omega.length }, (_, i) => {
		load(omega[i]!);
		return quickSingularValue(re, im, channels);
	});
	let best = 0;
	for (const i of Array.from(values.keys()).sort((a, b) => values[b]! - values[a]!)) {
		if (values[i]! < NEAR * best) break;
		values[i] = mu(omega[i]!, NEAR * best);
		best = Math.max(best, values[i]!);
	}
	let top = 0;
	let radPerSec = 0;
	const offer = (value: number, w: number): void => {
		if (value > top * (1 + 1e-9)) [top, radPerSec] = [value, w];
	};
	if (ends.zero !== undefined) offer(Math.abs(ends.zero + shift), 0);
	if (ends.infinity !== undefined) offer(Math.abs(ends.infinity + shift), Number.POSITIVE_INFINITY);
	for (let i = 0; i < values.length; i++) {
		const v = values[i]!;
		if (v < NEAR * best || v < (values[i - 1] ?? 0) || v < (values[i + 1] ?? 0)) continue;
		offer(v, omega[i]!);
		const low = omega[Math.max(0, i - 1)]!;
		const high = omega[Math.min(omega.length - 1, i + 1)]!;
		const [w, negative] = findMinimum((x) => -mu(x), low, high, 1e-8);
		offer(-negative, w);
	}
	let lower = top;
	if (Number.isFinite(radPerSec) && radPerSec > 0) {
		load(radPerSec);
		lower = structuredSingularValue(re, im, channels).lower;
	}
	const alpha = 1 / top;
	return { alpha, sigma, radPerSec, ...diskOf(alpha, sigma), alphaUpper: 1 / lower };
}
