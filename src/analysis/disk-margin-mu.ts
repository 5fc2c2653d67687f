import { phaseBound } from "./disk-margin-phases.ts";
import { balancedBound, MOST_CHANNELS, scaledBound, singularPair } from "./disk-margin-scaling.ts";

const EXACT = { tolerance: 1e-9, unlessAbove: 0 };

/**
 * mu of an n x n complex matrix M (n 1 to 6, row-major) for independent complex scalar factors: 1 over the
 * least size of diag(d1, ..., dn) with det(I - M diag) = 0.
 *
 * upper: least largest singular value of D M D^-1 over positive diagonal D; it is mu up to three channels (Packard and Doyle,
 * Automatica 29(1), 1993, from memory), beyond that only never below mu. lower: a spectral radius of U M with U a
 * unitary diagonal, so never above mu.
 * @throws RangeError on a size out of range or an entry that is not finite.
 */
export function structuredSingularValue(
	re: Float64Array,
	im: Float64Array,
	n: number,
): { upper: number; lower: number } {
	check(re, im, n);
	const upper = scaledBound(re, im, n, EXACT).value;
	if (n === 1 || upper === 0) return { upper, lower: upper };
	return { upper, lower: phaseBound(re, im, n, singularPair(re, im, n), upper) };
}

/** Its upper bound alone, relative error 1e-9; or any number below `unlessAbove` when it is known to be below. */
export function scaledSingularValue(re: Float64Array, im: Float64Array, n: number, unlessAbove = 0): number {
	check(re, im, n);
	return scaledBound(re, im, n, unlessAbove > 0 ? { ...EXACT, unlessAbove } : EXACT).value;
}

/** A number not below the upper bound, from one singular value. */
export function quickSingularValue(re: Float64Array, im: Float64Array, n: number): number {
	check(re, im, n);
	return balancedBound(re, im, n);
}

function check(re: Float64Array, im: Float64Array, n: number): void {
	if (!(Number.isInteger(n) && n >= 1 && n <= MOST_CHANNELS))
		throw new RangeError(`structuredSingularValue: ${n} channels, expected 1 to ${MOST_CHANNELS}`);
	for (let i = 0; i < n * n; i++)
		if (!(Number.isFinite(re[i]!) && Number.isFinite(im[i]!)))
			throw new RangeError(
				`structuredSingularValue: entry ${i} is ${re[i]} + ${im[i]} j, expected finite numbers`,
			);
}
