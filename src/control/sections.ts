import { type Block, blockOrder } from "./block.ts";

/**
 * A chain of single-input blocks of first and second order, their coefficients copied into one array so that the
 * control tick steps them without visiting objects. The equations are those of `stepBlock`, in its order of
 * operations: transposed direct form II.
 *
 *     y = s0 + b0 x        s0 = s1 - a1 y + b1 x        s1 = -a2 y + b2 x
 *
 * Layout: the signal, then order, b0, b1, b2, a1, a2 of each section.
 */
const FIRST = 1;
const WIDTH = 6;

/** @throws RangeError for a block with several inputs or of another order. */
export function sectionsOf(blocks: readonly Block[]): Float64Array {
	const sections = new Float64Array(FIRST + WIDTH * blocks.length);
	blocks.forEach((block, i) => {
		const order = blockOrder(block);
		const [b, a] = [block.numerators[0]!, block.denominator];
		if (block.numerators.length !== 1 || order < 1 || order > 2)
			throw new RangeError(
				`sections: ${block.numerators.length} inputs of order ${order}, expected 1 input of order 1 or 2`,
			);
		sections.set([order, b[0]!, b[1] ?? 0, b[2] ?? 0, a[1] ?? 0, a[2] ?? 0], FIRST + WIDTH * i);
	});
	return sections;
}

/**
 * One sample through the chain: `sections[0]` is read and replaced.
 * @param state the sections' states from `at`: two numbers a second-order one, one a first-order one
 */
export function stepSections(sections: Float64Array, state: Float64Array, at: number): void {
	let x = sections[0]!;
	let place = at;
	for (let k = 1; k < sections.length; k += 6) {
		const y = state[place]! + sections[k + 1]! * x;
		if (sections[k] === 2) {
			state[place] = state[place + 1]! - sections[k + 4]! * y + sections[k + 2]! * x;
			state[place + 1] = -sections[k + 5]! * y + sections[k + 3]! * x;
			place += 2;
		} else {
			state[place] = -sections[k + 4]! * y + sections[k + 2]! * x;
			place += 1;
		}
		x = y;
	}
	sections[0] = x;
}
