import {
	actuatorColumns,
	axisColumns,
	axisFlightMetrics,
	flightActuators,
} from "../analysis/flight-metrics.ts";
import type { Metric } from "../analysis/step-metrics.ts";
import type { AxisName, GainSet } from "../control/spec.ts";
import type { Craft, OperatingPoint } from "../craft/model.ts";
import type { Drill } from "../flight/drill.ts";
import { fly } from "../flight/engine.ts";
import { startOf } from "../flight/start.ts";
import { createMarginCells, type MarginNumbers } from "./margin-cells.ts";

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

type SweepMeasure =
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
export type ResolveCell = (values: readonly number[]) => Resolved | { readonly error: string };

interface Resolved {
	readonly craft: Craft;
	readonly set: GainSet;
	/** In place of the sweep's own, where the cell changes them. */
	readonly point?: OperatingPoint;
	readonly drill?: Drill;
}

/** Columns of a cell's numbers, by measure. */
export const SWEEP_COLUMNS = {
	margins: [
		"stable",
		"stabilityRadius",
		"rateLoopPeak",
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
export function cellValues({ axes }: Sweep, index: number): number[] {
	const values = new Array<number>(axes.length);
	let rest = index;
	for (let i = axes.length - 1; i >= 0; i--) {
		const axis = axes[i]!.values;
		values[i] = axis[rest % axis.length]!;
		rest = Math.floor(rest / axis.length);
	}
	return values;
}

export type MarginCells = ReturnType<typeof createMarginCells>;

/** What the margins of a sweep are computed by; sweeps of one axis and the same points may share it. Null where it flies. */
export function marginCellsOf({ measure }: Sweep): MarginCells | null {
	return measure.kind === "margins" ? createMarginCells(measure.axis, measure.points) : null;
}

/**
 * Computes cells first .. first + count - 1, in order; the same whatever the other cells and whoever computes them. What cells
 * share (the plants of a craft) is kept from one run to the next.
 */
export function createSweepCells(
	sweep: Sweep,
	resolve: ResolveCell,
	margins: MarginCells | null = marginCellsOf(sweep),
): (first: number, count: number) => SweepCell[] {
	const total = cellCount(sweep);
	const { measure } = sweep;
	const none: CellAnswer = { numbers: SWEEP_COLUMNS[measure.kind].map(() => null), why: "" };
	const answer = (values: readonly number[]): CellAnswer => {
		const resolved = resolve(values);
		if ("error" in resolved) return { ...none, why: resolved.error };
		if (measure.kind === "flown") return flownRow(measure, resolved);
		const { point } = resolved;
		const cells = point ? createMarginCells(measure.axis, [point]) : margins!;
		const found = cells(resolved.craft, resolved.set);
		return "why" in found ? { ...none, why: found.why } : { numbers: marginRow(found), why: "" };
	};
	return (first, count) => {
		if (
			!(
				Number.isInteger(first) &&
				Number.isInteger(count) &&
				first >= 0 &&
				count >= 0 &&
				first + count <= total
			)
		)
			throw new RangeError(`sweep: cells ${first} and ${count} on, expected within the sweep's ${total}`);
		return Array.from({ length: count }, (_, i) => {
			const values = cellValues(sweep, first + i);
			return { index: first + i, values, ...answer(values) };
		});
	};
}

type CellAnswer = Pick<SweepCell, "numbers" | "why">;

function marginRow(m: MarginNumbers): (number | null)[] {
	const { stable } = m;
	return [
		stable ? 1 : 0,
		m.stabilityRadius,
		finite(stable, m.rateLoopMs),
		finite(stable, m.phaseMarginDeg),
		finite(stable, m.gainMarginUpDb),
		finite(stable, m.gainMarginDownDb),
		finite(stable, 1e3 * m.delayMarginSec),
		finite(stable, m.crossoverRadPerSec / (2 * Math.PI)),
	];
}

const finite = (stable: boolean, v: number): number | null => (stable && Number.isFinite(v) ? v : null);

function flownRow(
	measure: Extract<SweepMeasure, { kind: "flown" }>,
	{ craft, set, point = measure.point, drill = measure.drill }: Resolved,
): CellAnswer {
	const { axis } = measure;
	const missing = SWEEP_COLUMNS.flown.slice(1).map(() => null);
	const setup = { craft, point, gainSet: set, drill };
	// A flight without trim starts at full command, which says nothing about gains.
	const { noTrim } = startOf(setup);
	if (noTrim) return { numbers: [null, ...missing], why: noTrim };
	const columns = [...axisColumns(axis, set.structure), ...actuatorColumns(craft.rotors.length)];
	const flight = fly({ ...setup, options: { columns } });
	if (flight.status !== "completed")
		return {
			numbers: [0, ...missing],
			why: `${flight.status} at ${flight.timeSec.toFixed(3)} s: ${flight.reason}`,
		};
	const { overshootPct, riseTimeSec, settlingTime2Sec, steadyStateError, iae } = axisFlightMetrics(
		flight,
		drill,
		axis,
		set.structure,
	);
	const motors = flightActuators(flight.trace, craft.mixer.lowestSpin);
	const degrees = (v: number | null): number | null => (v === null ? null : (180 / Math.PI) * v);
	return {
		numbers: [
			1,
			overshootPct.value,
			times(riseTimeSec.value, 1e3),
			times(settlingTime2Sec.value, 1e3),
			degrees(steadyStateError.value),
			degrees(iae.value),
			times(motors?.saturatedShare ?? null, 100),
		],
		why: reasons([
			overshootPct,
			riseTimeSec,
			settlingTime2Sec,
			steadyStateError,
			iae,
			...(motors ? [] : [NEVER_LIVE]),
		]),
	};
}

const NEVER_LIVE: Metric = { value: null, why: "the motors were live for too short a time to tell" };

/** Each reason once. */
const reasons = (metrics: readonly Metric[]): string =>
	[...new Set(metrics.flatMap(({ why }) => why ?? []))].join("; ");

const times = (v: number | null, by: number): number | null => (v === null ? null : v * by);
