import { fixedSet } from "../control/schedule.ts";
import type { AxisName, GainSet } from "../control/spec.ts";
import type { FirmwareUnits } from "../handover/firmware-units.ts";
import { firmwareGainsJson, gainName, tabledGains } from "./gains.ts";
import type { FirmwareGainsJson } from "./json/gains.ts";

/** The gains of one breakpoint, as typed into the builder's code; null where none were found. */
export interface SchedulePoint {
	readonly angleDeg: number;
	readonly loadGrams: number;
	readonly firmwareGains: FirmwareGainsJson | null;
}

/** The breakpoints of a set's schedule, row by row of angles; none for a set without one. */
export function schedulePoints(set: GainSet, units: FirmwareUnits): SchedulePoint[] {
	const { schedule } = set;
	if (!schedule) return [];
	return schedule.anglesRad.flatMap((angle) =>
		schedule.loadsKg.map((kg) => ({
			angleDeg: (angle * 180) / Math.PI,
			loadGrams: 1000 * kg,
			firmwareGains: firmwareGainsJson(fixedSet(set, angle, kg), units, null),
		})),
	);
}

export interface ScheduleTable {
	/** Columns after angle and load. */
	readonly gains: readonly { readonly name: string; readonly unit: string }[];
	readonly rows: readonly {
		readonly angleDeg: number;
		readonly loadGrams: number;
		readonly values: readonly (number | null)[];
	}[];
}

/** One axis's gains over the breakpoints. */
export function scheduleTable(points: readonly SchedulePoint[], axis: AxisName): ScheduleTable {
	const first = points.find(({ firmwareGains }) => firmwareGains)?.firmwareGains?.[axis] ?? {};
	const keys = tabledGains(first);
	return {
		gains: keys.map((key) => ({ name: gainName(key), unit: first[key]!.unit })),
		rows: points.map(({ angleDeg, loadGrams, firmwareGains }) => ({
			angleDeg,
			loadGrams,
			values: keys.map((key) => firmwareGains?.[axis][key]?.value ?? null),
		})),
	};
}
