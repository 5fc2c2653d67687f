import type { MarginsReport } from "../analysis/report-types.ts";
import { AXES, type AxisName } from "../control/spec.ts";
import { errorsOf } from "./fly-json.ts";
import type { CompareJson } from "./json/compare.ts";
import type { FlightJson } from "./json/fly.ts";
import { brokenLimits, OPENINGS } from "./margin-limits.ts";

export interface Candidate {
	readonly name: string;
	/** Null where the craft cannot hold this operating point. */
	readonly margins: MarginsReport | null;
	/** In the order of the drills. */
	readonly flights: readonly FlightJson[];
}

export type CompareRow = CompareJson["rows"][number];

interface Metric {
	readonly drill: string | null;
	readonly what: string;
	readonly unit: string;
	readonly better: "less" | "more";
	readonly of: (candidate: Candidate) => { value: number | null; why: string; fails: boolean };
}

/** Every number worth comparing, with its difference to the base, the best and the failing marked. */
export function compareRows(candidates: readonly Candidate[], base: string): CompareRow[] {
	const drills = candidates[0]?.flights.length ?? 0;
	const metrics = [
		...marginMetrics(),
		...Array.from({ length: drills }, (_, i) => flightMetrics(candidates, i)).flat(),
	];
	return metrics.map((metric) => toRow(metric, candidates, base));
}

function toRow(metric: Metric, candidates: readonly Candidate[], base: string): CompareRow {
	const { drill, what, unit, better } = metric;
	const found = candidates.map((each) => metric.of(each));
	const values = found
		.filter((each) => !each.fails)
		.flatMap((each) => (each.value === null ? [] : [each.value]));
	const top = better === "less" ? Math.min(...values) : Math.max(...values);
	// A figure that one set never reaches, such as settling, sets it apart from those that do.
	const never = drill !== null && found.some((each) => !each.fails && each.value === null);
	const differ = never || values.some((v) => !alike(v, top));
	const from = found[candidates.findIndex((each) => each.name === base)]?.value ?? null;
	return {
		drill,
		what,
		unit,
		better,
		cells: found.map(({ value, why, fails }, i) => {
			const difference = value === null || from === null ? null : value - from;
			return {
				set: candidates[i]!.name,
				value,
				difference,
				best: differ && !fails && value !== null && alike(value, top),
				fails,
				why: {
					...(value === null ? { value: why } : {}),
					...(difference === null
						? { difference: value === null ? why : `the base set ${base} has no such number` }
						: {}),
				},
			};
		}),
		why: drill === null ? { drill: "from the linear analysis, no flight needed" } : {},
	};
}

/** Equal for the eye: within a thousandth. */
const alike = (a: number, b: number): boolean => Math.abs(a - b) <= 1e-3 * Math.max(Math.abs(a), Math.abs(b));

function marginMetrics(): Metric[] {
	const least = (
		what: string,
		unit: string,
		pick: "phaseMarginDeg" | "gainMarginUpDb" | "delayMarginSec",
		factor = 1,
	): Metric => ({
		drill: null,
		what,
		unit,
		better: "more",
		of({ margins }) {
			if (!margins) return { value: null, why: "the craft cannot hold this operating point", fails: true };
			if (!margins.periodic.stable) return { value: null, why: "unstable", fails: true };
			const values = AXES.flatMap((axis) =>
				OPENINGS.flatMap(([key]) => {
					const value = margins.axes[axis][key]?.[pick].value;
					return value === null || value === undefined ? [] : [value * factor];
				}),
			);
			const fails = brokenLimits(margins).length > 0;
			return values.length > 0
				? { value: Math.min(...values), why: "", fails }
				: { value: null, why: "no crossing: nothing to limit", fails };
		},
	});
	return [
		least("least phase margin", "deg", "phaseMarginDeg"),
		least("least gain margin up", "dB", "gainMarginUpDb"),
		least("least delay margin", "ms", "delayMarginSec", 1000),
	];
}

function flightMetrics(candidates: readonly Candidate[], index: number): Metric[] {
	const drill = candidates[0]!.flights[index]!.drill.name;
	const list: Metric[] = [];
	const add = (
		what: string,
		unit: string,
		of: (flight: FlightJson) => { value: number | null; why: string },
	): void => {
		const metric: Metric = {
			drill,
			what,
			unit,
			better: "less",
			of(candidate) {
				const flight = candidate.flights[index]!;
				const { value, why } = of(flight);
				return { value, why: why || flight.fails[0] || "no such number", fails: flight.fails.length > 0 };
			},
		};
		if (candidates.some((each) => metric.of(each).value !== null)) list.push(metric);
	};
	const iae = (each: Candidate, axis: AxisName) => errorsOf(each.flights[index]!.metrics[axis]).iae ?? 0;
	const busiest = Math.max(0, ...candidates.flatMap((each) => AXES.map((axis) => iae(each, axis))));
	const unitOf = (axis: AxisName) => errorsOf(candidates[0]!.flights[index]!.metrics[axis]).unit;
	for (const axis of AXES) {
		// An axis that the drill hardly moves says nothing about the sets.
		const most = Math.max(...candidates.map((each) => iae(each, axis)));
		if (most < 0.1 * busiest) continue;
		const of = (name: "overshootPct" | "settlingTimeMs" | "recoveryTimeMs") => (flight: FlightJson) => ({
			value: flight.metrics[axis][name],
			why: flight.metrics[axis].why[name] ?? "",
		});
		add(`${axis} overshoot`, "%", of("overshootPct"));
		add(`${axis} settled after`, "ms", of("settlingTimeMs"));
		add(`${axis} furthest off`, unitOf(axis), (flight) => ({
			value: errorsOf(flight.metrics[axis]).peak,
			why: "a step: see overshoot",
		}));
		add(`${axis} back after`, "ms", of("recoveryTimeMs"));
		add(`${axis} IAE`, `${unitOf(axis)} s`, (flight) => ({
			value: errorsOf(flight.metrics[axis]).iae,
			why: "",
		}));
	}
	add("motor activity", "% a record", (flight) => ({ value: flight.actuators.activityPct, why: "" }));
	add("motors at their end", "% of time", (flight) => ({ value: flight.actuators.saturatedPct, why: "" }));
	return list;
}

/** What is wrong with a candidate, one sentence each. */
export function failures(candidate: Candidate): string[] {
	return [
		...(candidate.margins ? brokenLimits(candidate.margins) : ["the craft cannot hold this operating point"]),
		...candidate.flights.flatMap((flight) =>
			flight.fails.map((each) => `drill '${flight.drill.name}': ${each}`),
		),
	];
}
