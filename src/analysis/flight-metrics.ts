import type { AxisName, Structure } from "../control/spec.ts";
import type { Drill } from "../flight/drill.ts";
import type { FlightResult, Trace } from "../flight/result.ts";
import {
	type ActuatorMetrics,
	actuatorMetrics,
	disturbanceMetrics,
	LEAST_SAMPLES,
	type Metric,
	stepMetrics,
} from "./step-metrics.ts";

/** What one axis of a flight did, against what was asked of it: angle, or rate where the axis holds a rate. */
export interface AxisFlightMetrics {
	readonly quantity: "angle" | "rate";
	/** The set-point step that the drill gives this axis; null for none. Radians, seconds. */
	readonly step: { readonly atSec: number; readonly from: number; readonly to: number } | null;
	readonly overshootPct: Metric;
	readonly riseTimeSec: Metric;
	readonly peakTimeSec: Metric;
	/** Last crossing into 2 % and 5 % of the step. */
	readonly settlingTime2Sec: Metric;
	readonly settlingTime5Sec: Metric;
	/** Set-point less the mean over the last tenth. */
	readonly steadyStateError: Metric;
	/** Integral of |set-point - value| from the first thing that happens on. */
	readonly iae: Metric;
	/** Largest |set-point - value|; none for a step, whose first error is the step itself. */
	readonly peakDeviation: Metric;
	/** From the first thing that happens until the value stays within the band; none for a step. */
	readonly recoverySec: Metric;
}

/** Within which a held value counts as recovered: 1 degree, 5 degrees a second; common practice, no source. */
const RECOVERY_BAND = { angle: Math.PI / 180, rate: (5 * Math.PI) / 180 } as const;

const none = (why: string): Metric => ({ value: null, why });

const quantityOf = (axis: AxisName, structure: Structure): "angle" | "rate" =>
	axis === "yaw" || structure === "rateOnly" ? "rate" : "angle";

const signalOf = (axis: AxisName, quantity: "angle" | "rate"): string =>
	quantity === "angle" ? axis : `${axis}Rate`;

/** All that `axisFlightMetrics` reads of a trace. */
export function axisColumns(axis: AxisName, structure: Structure): readonly string[] {
	const signal = signalOf(axis, quantityOf(axis, structure));
	return ["time", signal, `${signal}SetPoint`];
}

/** Metrics of one axis; a flight that ended early has none, with the reason. */
export function axisFlightMetrics(
	flight: FlightResult,
	drill: Drill,
	axis: AxisName,
	structure: Structure,
): AxisFlightMetrics {
	const quantity = quantityOf(axis, structure);
	const { time, value, asked } = signals(flight.trace, axis, quantity);
	const step = findStep(time, asked, drill, axis);
	const ended =
		flight.status !== "completed"
			? `the flight ended after ${flight.timeSec.toFixed(2)} s: ${flight.reason}`
			: null;
	if (ended !== null) return nothing(quantity, step, ended);
	return step ? ofStep(quantity, time, value, asked, step) : ofHold(quantity, time, value, asked, drill);
}

/** All that `flightActuators` reads of a trace. */
export function actuatorColumns(rotorCount: number): readonly string[] {
	return ["saturated", ...Array.from({ length: rotorCount }, (_, i) => `command${i}`)];
}

export interface FlightActuators extends ActuatorMetrics {
	/** Share of the time with motors live in which roll, pitch and yaw had one at an end (`TRACE_COLUMNS`, 'saturated'). */
	readonly saturatedShare: number;
}

/** The motors of a flight: commands between lowest spin and full. Null where they were live for less than two records. */
export function flightActuators(trace: Trace, lowest: number): FlightActuators | null {
	const all = Object.entries(trace.columns).flatMap(([name, column]) =>
		/^command\d+$/.test(name) ? [column] : [],
	);
	// Motors that are safe are told 0, which no live motor is.
	const live = Array.from({ length: trace.length }, (_, i) => all.some((column) => column[i]! > 0));
	const whileLive = (column: Float64Array) => column.filter((_, i) => live[i]);
	const commands = all.map(whileLive);
	const length = commands[0]?.length ?? 0;
	if (length < 2) return null;
	const saturated = whileLive(columnOf(trace, "saturated"));
	return {
		...actuatorMetrics(commands, lowest, 1),
		saturatedShare: saturated.reduce((sum, each) => sum + each, 0) / length,
	};
}

function signals(trace: Trace, axis: AxisName, quantity: "angle" | "rate") {
	const signal = signalOf(axis, quantity);
	return {
		time: columnOf(trace, "time"),
		value: columnOf(trace, signal),
		asked: columnOf(trace, `${signal}SetPoint`),
	};
}

function columnOf(trace: Trace, name: string): Float64Array {
	const found = trace.columns[name];
	if (!found) throw new RangeError(`flight metrics: the trace has no column '${name}'`);
	return found;
}

interface Step {
	readonly atSec: number;
	readonly from: number;
	readonly to: number;
	/** Rows of the trace: first after the step, first after the next one. */
	readonly first: number;
	readonly end: number;
}

/** The first jump of the set-point, up to the next change. */
function findStep(time: Float64Array, asked: Float64Array, drill: Drill, axis: AxisName): Step | null {
	const first = nextMove(asked, 1);
	if (first >= asked.length) return null;
	const end = nextMove(asked, first + 1);
	if (end - first < LEAST_SAMPLES) return null;
	const event = drill.events.find(
		(each) =>
			(each.kind === "angle" || each.kind === "rate") &&
			each.axis === axis &&
			each.atSec > time[first - 1]! - 1e-9 &&
			each.atSec <= time[first]! + 1e-9,
	);
	// No later than its own first record, from which on there are enough.
	return {
		atSec: Math.min(event?.atSec ?? time[first]!, time[first]!),
		from: asked[first - 1]!,
		to: asked[first]!,
		first,
		end,
	};
}

/** The first row from `from` on that differs from the one before; the length where none does. */
function nextMove(asked: Float64Array, from: number): number {
	let i = from;
	while (i < asked.length && Math.abs(asked[i]! - asked[i - 1]!) <= 1e-9) i++;
	return i;
}

function ofStep(
	quantity: "angle" | "rate",
	time: Float64Array,
	value: Float64Array,
	asked: Float64Array,
	step: Step,
): AxisFlightMetrics {
	const { atSec, from, to, end } = step;
	const m = stepMetrics({
		timeSec: time.subarray(0, end),
		response: value.subarray(0, end),
		stepSec: atSec,
		from,
		to,
	});
	const aStep = none("the drill steps this axis: see overshoot and settling");
	return {
		quantity,
		step: { atSec, from, to },
		overshootPct: { value: m.overshootPct },
		riseTimeSec: m.riseTimeSec,
		peakTimeSec: m.peakTimeSec,
		settlingTime2Sec: m.settlingTime2Sec,
		settlingTime5Sec: m.settlingTime5Sec,
		steadyStateError: { value: m.steadyStateError },
		iae: { value: errorIntegral(time, value, asked, atSec) },
		peakDeviation: aStep,
		recoverySec: aStep,
	};
}

function ofHold(
	quantity: "angle" | "rate",
	time: Float64Array,
	value: Float64Array,
	asked: Float64Array,
	drill: Drill,
): AxisFlightMetrics {
	const noStep = none(
		nextMove(asked, 1) < asked.length
			? "the drill steps this axis for too short a time to measure"
			: "the drill gives this axis no step",
	);
	const held = {
		quantity,
		step: null,
		overshootPct: noStep,
		riseTimeSec: noStep,
		peakTimeSec: noStep,
		settlingTime2Sec: noStep,
		settlingTime5Sec: noStep,
	};
	const starts = [...drill.events, ...drill.wind.gusts].map((each) => each.atSec);
	const startSec = starts.length > 0 ? Math.min(...starts) : 0;
	if (time.filter((t) => t >= startSec).length < LEAST_SAMPLES) {
		const leftMs = Number((1000 * (drill.durationSec - startSec)).toFixed(3));
		const from = starts.length > 0 ? "the first thing in it happens" : "it begins";
		const short = none(`the drill ends ${leftMs} ms after ${from}: too soon to measure`);
		return { ...held, steadyStateError: short, iae: short, peakDeviation: short, recoverySec: short };
	}
	const error = value.map((v, i) => asked[i]! - v);
	const m = disturbanceMetrics({
		timeSec: time,
		response: error,
		startSec,
		target: 0,
		band: RECOVERY_BAND[quantity],
	});
	const tail = error.subarray(Math.floor(0.9 * error.length));
	return {
		...held,
		steadyStateError: { value: tail.reduce((sum, e) => sum + e, 0) / tail.length },
		iae: { value: m.iae },
		peakDeviation: { value: m.peakDeviation },
		recoverySec: m.recoverySec,
	};
}

/** The whole record from a time on, later set-points included. */
function errorIntegral(
	time: Float64Array,
	value: Float64Array,
	asked: Float64Array,
	startSec: number,
): number {
	return disturbanceMetrics({
		timeSec: time,
		response: value.map((v, i) => asked[i]! - v),
		startSec,
		target: 0,
		band: 1,
	}).iae;
}

function nothing(quantity: "angle" | "rate", step: Step | null, why: string): AxisFlightMetrics {
	const gone = none(why);
	return {
		quantity,
		step: step && { atSec: step.atSec, from: step.from, to: step.to },
		overshootPct: gone,
		riseTimeSec: gone,
		peakTimeSec: gone,
		settlingTime2Sec: gone,
		settlingTime5Sec: gone,
		steadyStateError: gone,
		iae: gone,
		peakDeviation: gone,
		recoverySec: gone,
	};
}
