/**
 * A linear block as coefficients: y = sum_i H_i(z) u_i with
 * H_i(z) = (b_i0 + b_i1 z^-1 + ...) / (1 + a_1 z^-1 + ...), all inputs sharing one denominator.
 * The stepper and the frequency evaluator below read the same coefficients; no block has either of its own.
 */
export interface Block {
	/** One row of coefficients per input, powers of z^-1 rising from 0. */
	readonly numerators: readonly (readonly number[])[];
	/** Powers of z^-1 rising from 0; the first entry is 1. */
	readonly denominator: readonly number[];
}

/** How many numbers of state the stepper keeps. */
export function blockOrder(block: Block): number {
	return Math.max(block.denominator.length, ...block.numerators.map((n) => n.length)) - 1;
}

/**
 * One sample through the block: transposed direct form II (Oppenheim and Schafer, Discrete-Time Signal
 * Processing, section 6.3; from memory), extended to several inputs.
 * @param inputs one number per numerator
 * @param state blockOrder(block) numbers from `at`, updated in place
 * @param order blockOrder(block)
 */
export function stepBlock(
	block: Block,
	inputs: ArrayLike<number>,
	state: Float64Array,
	at: number,
	order: number,
): number {
	let output = order > 0 ? state[at]! : 0;
	for (let i = 0; i < block.numerators.length; i++) output += (block.numerators[i]![0] ?? 0) * inputs[i]!;
	for (let k = 1; k <= order; k++) {
		let next = k < order ? state[at + k]! : 0;
		next -= (block.denominator[k] ?? 0) * output;
		for (let i = 0; i < block.numerators.length; i++) next += (block.numerators[i]![k] ?? 0) * inputs[i]!;
		state[at + k - 1] = next;
	}
	return output;
}

/**
 * Fills the state as if a single-input block had always seen `input`; gives its steady output.
 * @throws RangeError for a block without a finite gain at rest, such as an integrator.
 */
export function settleBlock(block: Block, input: number, state: Float64Array, at: number): number {
	const numerator = block.numerators[0]!;
	const sum = (xs: readonly number[]): number => xs.reduce((a, b) => a + b, 0);
	const gain = sum(numerator) / sum(block.denominator);
	if (!Number.isFinite(gain)) throw new RangeError(`settleBlock: gain at rest ${gain}, expected finite`);
	const output = gain * input;
	let carry = 0;
	for (let k = blockOrder(block); k >= 1; k--) {
		carry += (numerator[k] ?? 0) * input - (block.denominator[k] ?? 0) * output;
		state[at + k - 1] = carry;
	}
	return output;
}

/**
 * H_i(z) at z = exp(j angle), angle in radians per sample (omega T). Allocates nothing.
 * @param out real and imaginary part at `at` and `at + 1`
 */
export function respondBlock(block: Block, input: number, angle: number, out: Float64Array, at = 0): void {
	const numerator = block.numerators[input]!;
	const wr = Math.cos(angle);
	const wi = -Math.sin(angle);
	let nr = 0;
	let ni = 0;
	for (let k = numerator.length - 1; k >= 0; k--) {
		const re = nr * wr - ni * wi + numerator[k]!;
		ni = nr * wi + ni * wr;
		nr = re;
	}
	let dr = 0;
	let di = 0;
	for (let k = block.denominator.length - 1; k >= 0; k--) {
		const re = dr * wr - di * wi + block.denominator[k]!;
		di = dr * wi + di * wr;
		dr = re;
	}
	const size = dr * dr + di * di;
	out[at] = (nr * dr + ni * di) / size;
	out[at + 1] = (ni * dr - nr * di) / size;
}
