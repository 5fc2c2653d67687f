/**
 * Values under way with a fixed number of places in a flat array at `at`: READ, WRITE (counts), then `capacity` (a power of 2) slots of a time
 * and `width` values. Times are taken out in the order they were put in.
 */
export interface Ring {
	readonly at: number;
	readonly capacity: number;
	readonly width: number;
}

export const ringSize = (capacity: number, width: number): number => 2 + capacity * (1 + width);

/** Offset of the slot to be filled next, whose time is set; its values begin one further on. */
export function push(s: Float64Array, ring: Ring, timeUs: number): number {
	const count = s[ring.at + 1]!;
	if (count - s[ring.at]! >= ring.capacity)
		throw new RangeError(`flight: more than ${ring.capacity} values under way, expected fewer`);
	const slot = slotAt(ring, count);
	s[slot] = timeUs;
	s[ring.at + 1] = count + 1;
	return slot;
}

/** Offset of the oldest slot, which is given back. */
export function shift(s: Float64Array, ring: Ring): number {
	const count = s[ring.at]!;
	s[ring.at] = count + 1;
	return slotAt(ring, count);
}

/** Writes when the oldest comes due to out[at]; Infinity when none is under way. */
export function noteDue(s: Float64Array, ring: Ring, out: Float64Array, at: number): void {
	const count = s[ring.at]!;
	out[at] = count === s[ring.at + 1]! ? Number.POSITIVE_INFINITY : s[slotAt(ring, count)]!;
}

export function slotAt(ring: Ring, count: number): number {
	return ring.at + 2 + (count & (ring.capacity - 1)) * (1 + ring.width);
}
