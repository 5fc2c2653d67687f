import { SWEEP_COLUMNS } from "../../../../tuning/sweep.ts";

/** A result that the plane can show: a column of the sweep. */
export interface PlaneResult {
	readonly kind: "margins" | "flown";
	readonly column: string;
	/** Of the worst corner, or of the drill. */
	readonly words: string;
	/** The same of the craft as it stands. */
	readonly standing: string;
	readonly unit: string;
	readonly digits: number;
	/** Which end is wanted; null: neither. */
	readonly better: "more" | "less" | null;
}

const margin = (
	column: (typeof SWEEP_COLUMNS.margins)[number],
	words: string,
	unit: string,
	digits: number,
	better: "more" | null = "more",
): PlaneResult => ({
	kind: "margins",
	column,
	words: `${words}, worst corner`,
	standing: `${words}, as it stands`,
	unit,
	digits,
	better,
});
const flown = (
	column: (typeof SWEEP_COLUMNS.flown)[number],
	words: string,
	unit: string,
	digits: number,
): PlaneResult => ({ kind: "flown", column, words, standing: words, unit, digits, better: "less" });

export const RESULTS: readonly PlaneResult[] = [
	{
		...margin("stabilityRadius", "distance to instability", "", 2),
		words: "distance of the worst corner to instability",
	},
	margin("phaseMarginDeg", "phase margin", "deg", 1),
	margin("gainMarginUpDb", "gain may rise by", "dB", 1),
	margin("gainMarginDownDb", "gain may fall by", "dB", 1),
	margin("delayMarginMs", "delay margin", "ms", 2),
	margin("crossoverHz", "crossover", "Hz", 2, null),
	flown("overshootPct", "overshoot of the drill", "%", 1),
	flown("settlingTimeMs", "settling to 2 % in the drill", "ms", 0),
	flown("iaeDegSec", "distance from the set-point summed over the drill (IAE)", "deg s", 2),
];

export interface ReadCell {
	/** NaN: none. */
	readonly value: number;
	readonly stable: boolean;
}

/** One result of a cell's numbers. An unstable cell, or a flight that ended early, has none. */
export function readCell(result: PlaneResult): (numbers: readonly (number | null)[]) => ReadCell {
	const columns: readonly string[] = SWEEP_COLUMNS[result.kind];
	const at = columns.indexOf(result.column);
	return (numbers) => {
		const stable = numbers[0] === 1;
		return { stable, value: stable ? (numbers[at] ?? Number.NaN) : Number.NaN };
	};
}

/** The best cell by a result; null where none has any, or neither end is wanted. */
export function bestCell(
	cells: readonly (readonly (number | null)[] | undefined)[],
	result: PlaneResult,
): { readonly index: number; readonly value: number } | null {
	if (result.better === null) return null;
	const read = readCell(result);
	const sign = result.better === "more" ? 1 : -1;
	let best: { index: number; value: number } | null = null;
	cells.forEach((numbers, index) => {
		if (!numbers) return;
		const { value } = read(numbers);
		if (Number.isFinite(value) && (best === null || sign * value > sign * best.value))
			best = { index, value };
	});
	return best;
}

/** What a plane that shows this is of. */
export const wordsOf = (result: PlaneResult, shows: "stands" | "corners" | "flight"): string =>
	shows === "stands" ? result.standing : result.words;
