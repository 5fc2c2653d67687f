/** A run of cells: first index and how many. */
export interface Chunk {
	readonly first: number;
	readonly count: number;
}

/** Cuts `total` cells into runs of at most `most`, in order. */
export function chunks(total: number, most: number): Chunk[] {
	if (!Number.isInteger(total) || total < 0)
		throw new RangeError(`total ${total}: expected a whole number of at least 0`);
	if (!Number.isInteger(most) || most < 1)
		throw new RangeError(`chunk size ${most}: expected a whole number of at least 1`);
	const list: Chunk[] = [];
	for (let first = 0; first < total; first += most)
		list.push({ first, count: Math.min(most, total - first) });
	return list;
}
