import type { AxisPlant } from "../analysis/axis-plant.ts";
import { controlParts } from "../control/axis-response.ts";
import type { FixedGainSet } from "../control/spec.ts";

/**
 * Products of plant and control law that no gain changes, per frequency, each as Re, Im: F, F I, F D times rate/u without drift, the
 * same times rate/u, then 1, I, I^2 times angle/u.
 */
const STRIDE = 18;

/**
 * @param answers six numbers a frequency: rate/u, angle/u, rate/u with drift left out
 * @returns STRIDE numbers a frequency
 */
export function loopProducts(
	plant: AxisPlant,
	set: FixedGainSet,
	omega: Float64Array,
	answers: Float64Array,
): Float64Array {
	const parts = controlParts({
		anglePid: set.structure === "anglePid" && plant.axis !== "yaw",
		filters: set.filters,
		derivativeCutoffHz: set[plant.axis].derivativeCutoffHz,
		periodSec: plant.periodSec,
		rateSpacingSec: plant.rateSpacingSec,
	});
	const products = new Float64Array(STRIDE * omega.length);
	const c = new Float64Array(6);
	const put = (at: number, ar: number, ai: number, br: number, bi: number): void => {
		products[at] = ar * br - ai * bi;
		products[at + 1] = ar * bi + ai * br;
	};
	for (let i = 0; i < omega.length; i++) {
		const at = STRIDE * i;
		const g = 6 * i;
		parts.respond(omega[i]!, c);
		const [fr, fi, ir, ii, dr, di] = [c[0]!, c[1]!, c[2]!, c[3]!, c[4]!, c[5]!];
		for (const [to, from] of [
			[at, g + 4],
			[at + 6, g],
		] as const) {
			const re = answers[from]!;
			const im = answers[from + 1]!;
			put(to, fr, fi, re, im);
			put(to + 2, fr * ir - fi * ii, fr * ii + fi * ir, re, im);
			put(to + 4, dr, di, re, im);
		}
		const re = answers[g + 2]!;
		const im = answers[g + 3]!;
		products[at + 12] = re;
		products[at + 13] = im;
		put(at + 14, ir, ii, re, im);
		put(at + 16, ir * ir - ii * ii, 2 * ir * ii, re, im);
	}
	return products;
}

/** L of the rate loop, the whole axis and the angle loop over the frequencies of a table. */
export interface Loops {
	readonly re: readonly [Float64Array, Float64Array, Float64Array];
	readonly im: readonly [Float64Array, Float64Array, Float64Array];
}

/** The three loops as `axisLoops` defines them, for gains as `loopWeights` writes them. Allocates nothing. */
export function fillLoops(products: Float64Array, weights: Float64Array, loops: Loops): void {
	const [rateRe, wholeRe, angleRe] = loops.re;
	const [rateIm, wholeIm, angleIm] = loops.im;
	const w0 = weights[0]!;
	const w1 = weights[1]!;
	const w2 = weights[2]!;
	const w3 = weights[3]!;
	const w4 = weights[4]!;
	const w5 = weights[5]!;
	const n = rateRe.length;
	for (let i = 0, at = 0; i < n; i++, at += STRIDE) {
		rateRe[i] = w0 * products[at]! + w1 * products[at + 2]! + w2 * products[at + 4]!;
		rateIm[i] = w0 * products[at + 1]! + w1 * products[at + 3]! + w2 * products[at + 5]!;
		const lr = w0 * products[at + 6]! + w1 * products[at + 8]! + w2 * products[at + 10]!;
		const li = w0 * products[at + 7]! + w1 * products[at + 9]! + w2 * products[at + 11]!;
		const xr = w3 * products[at + 12]! + w4 * products[at + 14]! + w5 * products[at + 16]!;
		const xi = w3 * products[at + 13]! + w4 * products[at + 15]! + w5 * products[at + 17]!;
		wholeRe[i] = lr + xr;
		wholeIm[i] = li + xi;
		const returned = 1 + lr;
		const size = 1 / (returned * returned + li * li);
		angleRe[i] = (xr * returned + xi * li) * size;
		angleIm[i] = (xi * returned - xr * li) * size;
	}
}

/** Least |1 + L|^2. */
export function leastReturn(re: Float64Array, im: Float64Array): number {
	let least = Infinity;
	for (let i = 0; i < re.length; i++) {
		const x = 1 + re[i]!;
		const y = im[i]!;
		const s = x * x + y * y;
		if (s < least) least = s;
	}
	return least;
}

/** arg(1 + L) at the lowest frequency, followed down from pi/T where it is 0 or pi, the short way round between neighbours. */
export function lowAngle(re: Float64Array, im: Float64Array): number {
	const top = re.length - 1;
	let x1 = 1 + re[top]!;
	let y1 = im[top]!;
	const start = (x1 >= 0 ? 0 : Math.PI) - Math.atan2(y1, x1);
	let turns = 0;
	for (let i = top - 1; i >= 0; i--) {
		const x0 = 1 + re[i]!;
		const y0 = im[i]!;
		// The negative real axis is passed where Im changes sign and the way between crosses left of 0.
		if (y0 >= 0 !== y1 >= 0) {
			const side = x1 * y0 - x0 * y1;
			if (y0 >= 0 ? side < 0 : side > 0) turns += y0 >= 0 ? -1 : 1;
		}
		x1 = x0;
		y1 = y0;
	}
	return start + Math.atan2(y1, x1) + 2 * Math.PI * turns;
}
