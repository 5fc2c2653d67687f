import { AXES, type AxisName } from "../control/spec.ts";
import type { KeyNumber } from "../pictures/picture.ts";
import { errorsOf } from "./fly-json.ts";
import type { FlightJson } from "./json/fly.ts";

export interface CountedFlight {
	readonly letter: string;
	readonly json: FlightJson;
}

/** How well flights followed, as their metrics have it: of one axis, or of all with what the motors did. */
export function flightNumbers(flights: readonly CountedFlight[], axis: AxisName | null): KeyNumber[] {
	const axes = axis === null ? AXES : [axis];
	return [
		...axes.flatMap((each) => followed(flights, each)),
		...(axis === null ? motors(flights) : []),
		...flights.map(
			({ letter, json }): KeyNumber => ({
				what: "flown for",
				of: letter,
				value: json.timeSec,
				unit: "s",
				where: json.reason || "to the end",
			}),
		),
	];
}

function followed(flights: readonly CountedFlight[], axis: AxisName): KeyNumber[] {
	const rows = [
		{ key: "overshootPct", what: "overshoot", unit: "%", where: "of the step" },
		{ key: "riseTimeMs", what: "rise", unit: "ms", where: "10 to 90 % of the step" },
		{ key: "peakTimeMs", what: "peak after", unit: "ms", where: "" },
		{ key: "settlingTimeMs", what: "settled after", unit: "ms", where: "within 2 % for good" },
		{ key: "recoveryTimeMs", what: "back after", unit: "ms", where: "within 1 deg, rates 5 deg/s, for good" },
	] as const;
	const errors = [
		{ key: "peak", name: "peakDeviation", what: "most off", times: "", where: "from the set-point" },
		{ key: "atEnd", name: "steadyStateError", what: "error at the end", times: "", where: "" },
		{ key: "iae", name: "iae", what: "IAE", times: " s", where: "distance summed over time" },
	] as const;
	return [
		...rows.flatMap(({ key, what, unit, where }) =>
			flights.map(({ letter, json }): KeyNumber => {
				const found = json.metrics[axis];
				const value = found[key];
				return {
					what: `${axis} ${what}`,
					of: letter,
					value,
					unit,
					where: value === null ? (found.why[key] ?? "") : where,
				};
			}),
		),
		...errors.flatMap(({ key, name, what, times, where }) =>
			flights.map(({ letter, json }): KeyNumber => {
				const found = json.metrics[axis];
				const all = errorsOf(found);
				const why = Object.entries(found.why).find(([each]) => each.startsWith(name))?.[1] ?? "";
				return {
					what: `${axis} ${what}`,
					of: letter,
					value: all[key],
					unit: `${all.unit}${times}`,
					where: all[key] === null ? why : where,
				};
			}),
		),
	];
}

function motors(flights: readonly CountedFlight[]): KeyNumber[] {
	const rows = [
		{ key: "activityPct", what: "motor activity", unit: "%", where: "change from record to record, RMS" },
		{
			key: "saturatedPct",
			what: "a motor at its end",
			unit: "% of time",
			where: "by roll, pitch or yaw, in the air",
		},
		{ key: "leastHeadroomPct", what: "least headroom of a motor", unit: "%", where: "" },
		{ key: "leastBatteryV", what: "least battery voltage", unit: "V", where: "under load" },
	] as const;
	return rows.flatMap(({ key, what, unit, where }) =>
		flights.map(({ letter, json: { actuators } }): KeyNumber => {
			const value = actuators[key];
			return { what, of: letter, value, unit, where: value === null ? (actuators.why[key] ?? "") : where };
		}),
	);
}
