/** A label about its middle, in pixels; one out of sight has no height. */
export interface LabelBox {
	readonly x: number;
	readonly y: number;
	readonly width: number;
	readonly height: number;
	/** It may be moved up or down to make room. */
	readonly yields: boolean;
}

/** Farther from its place a label would be taken for another's. */
const MOST_STEPS = 3;

/**
 * How far down each label goes so that none lies over another: those that do not yield stay; the others, in their order, go up or down by their own height, the nearest free
 * place first, and stay where none is free.
 */
export function keepApart(boxes: readonly LabelBox[]): number[] {
	const down = boxes.map(() => 0);
	const placed = boxes.filter(({ yields }) => !yields);
	boxes.forEach((box, i) => {
		if (!box.yields) return;
		const tries = [0];
		for (let step = 1; step <= MOST_STEPS; step++) tries.push(step * box.height, -step * box.height);
		down[i] = tries.find((by) => placed.every((other) => !overlap({ ...box, y: box.y + by }, other))) ?? 0;
		placed.push({ ...box, y: box.y + down[i]! });
	});
	return down;
}

const overlap = (a: LabelBox, b: LabelBox): boolean =>
	a.height > 0 &&
	b.height > 0 &&
	Math.abs(a.x - b.x) < (a.width + b.width) / 2 &&
	Math.abs(a.y - b.y) < (a.height + b.height) / 2;
