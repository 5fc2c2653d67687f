import { type AxisFlightMetrics, axisFlightMetrics, flightActuators } from "../analysis/flight-metrics.ts";
import { handLoop } from "../analysis/hand-loop.ts";
import { heightMetrics } from "../analysis/height-metrics.ts";
import { hoverTrim } from "../analysis/hover.ts";
import type { Metric } from "../analysis/step-metrics.ts";
import type { AxisName, GainSet } from "../control/spec.ts";
import type { Craft, OperatingPoint } from "../craft/model.ts";
import type { Drill } from "../flight/drill.ts";
import { type FlightResult, STATUS_WORDS } from "../flight/result.ts";
import type { AngleMetricsJson, FlightJson, RateMetricsJson } from "./json/fly.ts";
import type { Why } from "./json/loop-fields.ts";

const DEG = 180 / Math.PI;

/** A flight under the names that scripts read. */
export function flightJson(
	flight: FlightResult,
	craft: Craft,
	point: OperatingPoint,
	drill: Drill,
	set: GainSet,
): FlightJson {
	const one = (axis: AxisName) => metricsJson(axisFlightMetrics(flight, drill, axis, set.structure));
	const actuators = actuatorsJson(flight, craft);
	return {
		status: flight.status,
		reason: flight.reason,
		timeSec: flight.timeSec,
		fails: failuresOf(flight, craft, point, actuators.saturatedPct),
		drill: { name: drill.name, about: drill.about, durationSec: drill.durationSec },
		metrics: { roll: one("roll"), pitch: one("pitch"), yaw: one("yaw") as RateMetricsJson },
		actuators,
		heights: heightsJson(flight, drill, craft, point),
		notes: [...flight.notes],
		outsideModel: [...flight.outsideModel],
	};
}

function heightsJson(
	flight: FlightResult,
	drill: Drill,
	craft: Craft,
	point: OperatingPoint,
): FlightJson["heights"] {
	return heightMetrics(flight, drill).map((m) => {
		const why: Why = {};
		const take = (
			name: string,
			metric: { value: number | null; why?: string | undefined },
			factor = 1,
		): number | null => {
			if (metric.value !== null) return metric.value * factor;
			why[name] = metric.why ?? "";
			return null;
		};
		const loop = m.by === "pilot" ? handLoop(craft, point) : "the law is not a person";
		const margins = typeof loop === "string" ? null : loop.margins;
		const none = { value: null, why: typeof loop === "string" ? loop : loop.margins.why };
		return {
			atSec: m.atSec,
			by: m.by,
			targetM: m.targetM,
			arrivalMs: take("arrivalMs", m.arrivalSec, 1000),
			peakErrorM: take("peakErrorM", m.peakErrorM),
			rmsErrorM: take("rmsErrorM", m.rmsErrorM),
			lowestM: take("lowestM", m.lowestM),
			highestM: take("highestM", m.highestM),
			crossoverRadPerSec: take("crossoverRadPerSec", margins?.crossoverRadPerSec ?? none),
			phaseMarginDeg: take("phaseMarginDeg", margins?.phaseMarginDeg ?? none),
			gainMarginDb: take("gainMarginDb", margins?.gainMarginUpDb ?? none),
			why,
		};
	});
}

/** A craft whose motors the axes hold at an end for a larger share of a drill than this is not being flown; common practice, no source. */
const MOST_SATURATED_PCT = 25;

function failuresOf(
	flight: FlightResult,
	craft: Craft,
	point: OperatingPoint,
	saturatedPct: number | null,
): string[] {
	const fails: string[] = [];
	const { result } = hoverTrim(craft, point);
	if (!result.feasible) fails.push(`the craft cannot hold itself up: ${result.reason}`);
	if (flight.status !== "completed")
		fails.push(
			`${STATUS_WORDS[flight.status]} after ${flight.timeSec.toFixed(3)} s: ${flight.reason.replace(AT_THE_END, "")}`,
		);
	else if (saturatedPct !== null && saturatedPct > MOST_SATURATED_PCT)
		fails.push(
			`roll, pitch and yaw had a motor at full or lowest ${saturatedPct.toFixed(0)} % of the time, where throttle left room: the gains shake the craft, or there is no reserve`,
		);
	return fails;
}

function metricsJson(m: AxisFlightMetrics): AngleMetricsJson | RateMetricsJson {
	const why: Why = {};
	const take = (name: string, metric: Metric, factor: number): number | null => {
		if (metric.value !== null) return metric.value * factor;
		why[name] = metric.why;
		return null;
	};
	const shared = {
		overshootPct: take("overshootPct", m.overshootPct, 1),
		riseTimeMs: take("riseTimeMs", m.riseTimeSec, 1000),
		peakTimeMs: take("peakTimeMs", m.peakTimeSec, 1000),
		settlingTimeMs: take("settlingTimeMs", m.settlingTime2Sec, 1000),
		settlingTime5PctMs: take("settlingTime5PctMs", m.settlingTime5Sec, 1000),
		recoveryTimeMs: take("recoveryTimeMs", m.recoverySec, 1000),
	};
	if (m.quantity === "angle")
		return {
			...shared,
			steadyStateErrorDeg: take("steadyStateErrorDeg", m.steadyStateError, DEG),
			iaeDegSec: take("iaeDegSec", m.iae, DEG),
			peakDeviationDeg: take("peakDeviationDeg", m.peakDeviation, DEG),
			why,
		};
	return {
		...shared,
		steadyStateErrorDegPerSec: take("steadyStateErrorDegPerSec", m.steadyStateError, DEG),
		iaeDegPerSecSec: take("iaeDegPerSecSec", m.iae, DEG),
		peakDeviationDegPerSec: take("peakDeviationDegPerSec", m.peakDeviation, DEG),
		why,
	};
}

function actuatorsJson(flight: FlightResult, craft: Craft): FlightJson["actuators"] {
	const found = flightActuators(flight.trace, craft.mixer.lowestSpin);
	const volts = flight.trace.columns["batteryVoltage"] ?? new Float64Array();
	const leastBatteryV = volts.length > 0 ? volts.reduce((least, v) => Math.min(least, v)) : null;
	if (!found) {
		const reason = `the motors were live for too short a time to tell in a flight of ${flight.timeSec} s`;
		return {
			activityPct: null,
			saturatedPct: null,
			leastHeadroomPct: null,
			leastBatteryV,
			why: {
				activityPct: reason,
				saturatedPct: reason,
				leastHeadroomPct: reason,
				...(leastBatteryV === null ? { leastBatteryV: reason } : {}),
			},
		};
	}
	return {
		activityPct: 100 * found.activityRms,
		saturatedPct: 100 * found.saturatedShare,
		leastHeadroomPct: 100 * found.leastHeadroom,
		leastBatteryV,
		why: {},
	};
}

/** Error numbers whatever they are called: degrees, or degrees a second where a rate is held. */
export function errorsOf(m: AngleMetricsJson | RateMetricsJson): {
	readonly unit: "deg" | "deg/s";
	readonly atEnd: number | null;
	readonly iae: number | null;
	readonly peak: number | null;
} {
	if ("iaeDegSec" in m)
		return { unit: "deg", atEnd: m.steadyStateErrorDeg, iae: m.iaeDegSec, peak: m.peakDeviationDeg };
	return {
		unit: "deg/s",
		atEnd: m.steadyStateErrorDegPerSec,
		iae: m.iaeDegPerSecSec,
		peak: m.peakDeviationDegPerSec,
	};
}

/** The time is said once. */
const AT_THE_END = /,? at [\d.]+ s$/;
