import { moved, type Point } from "./point.ts";

export interface BoxOptions {
	/** Half width of the first box, in cells, and of the last. */
	readonly first: number;
	readonly last: number;
	readonly pointsPerBox: number;
	readonly free: readonly boolean[];
}

/**
 * Boxes about the best point so far, filled by Halton's sequence (Numer. Math. 2, 1960; from memory), moving at once to
 * anything better and on in the direction that helped; a box in which nothing was better shrinks.
 * @param value what to make small; may answer Infinity for anything not below `limit`
 */
export function boxSearch(
	start: Point,
	startValue: number,
	value: (point: Point, limit: number) => number,
	options: BoxOptions,
): { readonly point: Point; readonly value: number } {
	let centre = start;
	let best = startValue;
	let index = 1;
	const step = [0, 0, 0, 0];
	const attempt = (point: Point): boolean => {
		const found = value(point, best);
		if (!(found < best)) return false;
		best = found;
		centre = point;
		return true;
	};
	for (let box = options.first; box > options.last; ) {
		let better = false;
		for (let n = 0; n < options.pointsPerBox; n++, index++) {
			const from = centre;
			for (let i = 0; i < 4; i++)
				step[i] = options.free[i] ? (2 * radicalInverse(index, BASES[i]!) - 1) * box : 0;
			if (!attempt(moved(from, step))) continue;
			better = true;
			for (let far = 2; far <= 8 && attempt(moved(from, step, far)); far *= 2);
		}
		box *= better ? 0.9 : 0.6;
	}
	return { point: centre, value: best };
}

const BASES = [2, 3, 5, 7] as const;

function radicalInverse(index: number, base: number): number {
	let result = 0;
	let weight = 1 / base;
	for (let i = index; i > 0; i = Math.floor(i / base), weight /= base) result += (i % base) * weight;
	return result;
}
