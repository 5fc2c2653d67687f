/** Cells along a side, pass by pass: each grid holds the one before. */
export const MARGIN_PASSES: readonly number[] = [7, 13, 25, 49];
/** Flights take longer than margins, yet get as fine. */
export const FLOWN_PASSES: readonly number[] = [7, 13, 25, 49];

/** A rectangle of the finest grid: its columns and rows there. */
export interface Block {
	readonly columns: readonly number[];
	readonly rows: readonly number[];
}

/** The cells that pass `k` adds, as rectangles of the finest grid: new columns on all rows, old columns on new rows. */
export function passBlocks(passes: readonly number[], k: number): readonly Block[] {
	const finest = passes[passes.length - 1]!;
	const every = (count: number): number[] => {
		const step = (finest - 1) / (count - 1);
		return Array.from({ length: count }, (_, i) => i * step);
	};
	const all = every(passes[k]!);
	if (k === 0) return [{ columns: all, rows: all }];
	const before = new Set(every(passes[k - 1]!));
	const old = all.filter((i) => before.has(i));
	const fresh = all.filter((i) => !before.has(i));
	return [
		{ columns: fresh, rows: all },
		{ columns: old, rows: fresh },
	];
}

/** What is known of a plane: one row of numbers per cell of the finest grid, `undefined` where not worked out. */
export type Cells = readonly (readonly (number | null)[] | undefined)[];

/** A square grid to be drawn: every cell of pass `k`, of the finest grid. */
export interface DrawnGrid {
	readonly count: number;
	readonly step: number;
	/** Row by row; NaN: no answer. */
	readonly values: Float64Array;
	readonly stable: Float64Array;
}

/**
 * The grid of a pass with one column of the cells. What is not worked out yet is filled in between its neighbours of the coarser
 * grid, so that a picture can be seen before it is complete.
 */
export function gridOf(
	cells: Cells,
	finest: number,
	count: number,
	read: (numbers: readonly (number | null)[]) => { readonly value: number; readonly stable: boolean },
): DrawnGrid {
	const step = (finest - 1) / (count - 1);
	const values = new Float64Array(count * count).fill(Number.NaN);
	const stable = new Float64Array(count * count).fill(Number.NaN);
	const known = new Uint8Array(count * count);
	for (let j = 0; j < count; j++)
		for (let i = 0; i < count; i++) {
			const numbers = cells[j * step * finest + i * step];
			if (!numbers) continue;
			const found = read(numbers);
			known[j * count + i] = 1;
			values[j * count + i] = found.value;
			stable[j * count + i] = found.stable ? 1 : 0;
		}
	const between = (grid: Float64Array, i: number, j: number): number => {
		const [i0, j0] = [i - (i % 2), j - (j % 2)];
		const [i1, j1] = [i0 + 2 * (i % 2), j0 + 2 * (j % 2)];
		const at = (a: number, b: number): number => grid[b * count + a]!;
		return (at(i0, j0) + at(i1, j0) + at(i0, j1) + at(i1, j1)) / 4;
	};
	if (count > 2)
		for (let j = 0; j < count; j++)
			for (let i = 0; i < count; i++)
				if (!known[j * count + i] && (i % 2 === 1 || j % 2 === 1)) {
					values[j * count + i] = between(values, i, j);
					stable[j * count + i] = between(stable, i, j);
				}
	return { count, step, values, stable };
}
