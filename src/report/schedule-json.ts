import type { z } from "zod";
import { fixedSet } from "../control/schedule.ts";
import type { Craft } from "../craft/model.ts";
import type { FirmwareUnits } from "../handover/firmware-units.ts";
import type { ScheduleResult } from "../tuning/schedule.ts";
import { firmwareGainsJson, gainsJson } from "./gains.ts";
import type { Why } from "./json/loop-fields.ts";
import type { scheduleSchema } from "./json/schedule.ts";

export type ScheduleJson = z.infer<typeof scheduleSchema>;

const DEG = 180 / Math.PI;

/** A schedule under the names that scripts read. */
export function scheduleJson(result: ScheduleResult, units: FirmwareUnits, craft: Craft): ScheduleJson {
	const { gainSet, breakpoints, why, checked } = result;
	const schedule = gainSet?.schedule;
	return {
		feasible: gainSet !== null,
		infeasibleBecause: why,
		hinge: result.hinge,
		anglesDeg: [...new Set(breakpoints.map(({ poseRad }) => poseRad[0]! * DEG))],
		loadsGrams: [...new Set(breakpoints.map(({ loadKg }) => 1000 * loadKg))],
		checked,
		points: breakpoints.map(({ poseRad, loadKg, tuned }) => {
			const found =
				gainSet && schedule ? fixedSet(gainSet, poseRad[schedule.link]!, loadKg) : (tuned?.gainSet ?? null);
			return {
				poseDeg: poseRad.map((angle) => angle * DEG),
				loadGrams: 1000 * loadKg,
				gains: found && gainsJson(found),
				firmwareGains: found && firmwareGainsJson(found, units, craft),
				why: (found ? {} : { gains: why, firmwareGains: why }) as Why,
			};
		}),
	};
}
