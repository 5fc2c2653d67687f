import type { AxisName, GainSet } from "../control/spec.ts";
import type { Craft, OperatingPoint } from "../craft/model.ts";
import type { Drill } from "../flight/drill.ts";

/** One swept number: a path into the scenario and its values, in the file's plain SI numbers. */
export interface SweepAxis {
	readonly path: string;
	readonly values: readonly number[];
}

/** A pure definition: plain data that crosses threads. Cells run row by row: the first axis turns slowest. */
export interface Sweep {
	/** One or two. */
	readonly axes: readonly SweepAxis[];
	readonly measure: SweepMeasure;
}

export type SweepMeasure =
	/** Margins of one axis: the worst of the given points. */
	| { readonly kind: "margins"; readonly axis: AxisName; readonly points: readonly OperatingPoint[] }
	/** A drill flown at one point, step metrics of one axis. */
	| {
			readonly kind: "flown";
			readonly axis: AxisName;
			readonly drill: Drill;
			readonly point: OperatingPoint;
	  };

/** What a cell needs, made from the scenario by whoever may import it. Errors are the cell's `why`. */
export type ResolveCell = (
	values: readonly number[],
) => { readonly craft: Craft; readonly set: GainSet } | { readonly error: string };

/** Columns of a cell's numbers, by measure. */
export const SWEEP_COLUMNS = {
	margins: [
		"stable",
		"stabilityRadius",
		"rateLoopMs",
		"phaseMarginDeg",
		"gainMarginUpDb",
		"gainMarginDownDb",
		"delayMarginMs",
		"crossoverHz",
	],
	flown: [
		"completed",
		"overshootPct",
		"riseTimeMs",
		"settlingTimeMs",
		"steadyStateErrorDeg",
		"iaeDegSec",
		"saturatedPct",
	],
} as const;

export interface SweepCell {
	readonly index: number;
	readonly values: readonly number[];
	/** One number per column; null where there is none. */
	readonly numbers: readonly (number | null)[];
	/** Why numbers are missing; else empty. */
	readonly why: string;
}

/** How many cells a sweep has. */
export function cellCount(sweep: Sweep): number {
	return sweep.axes.reduce((count, axis) => count * axis.values.length, 1);
}

/** The swept values of one cell. */
export function cellValues(sweep: Sweep, index: number): number[] {
	const values: number[] = [];
	let rest = index;
	for (const axis of [...sweep.axes].reverse()) {
		values.unshift(axis.values[rest % axis.values.length]!);
		rest = Math.floor(rest / axis.values.length);
	}
	return values;
}

/** Cells first .. first + count - 1, in order; the same whatever the other cells and whoever computes them. */
export function sweepCells(sweep: Sweep, resolve: ResolveCell, first: number, count: number): SweepCell[] {
	throw new Error(
		`sweepCells: not written yet (${sweep.axes.length}, ${resolve.length}, ${first}, ${count})`,
	);
}
