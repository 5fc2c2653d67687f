import { AXES, type AxisName } from "../control/spec.ts";
import { digits } from "../report/format.ts";
import { gainName, tabledGains } from "../report/gains.ts";
import type { ScheduleJson } from "../report/schedule-json.ts";
import { type Paint, paragraph, table } from "./text.ts";

/** Gains over poses and loads, as typed into the builder's code; empty where none were asked for. */
export function scheduleText(schedule: ScheduleJson | null, paint: Paint, width: number): string {
	if (!schedule) return "";
	const title = paint.bold("Gains that follow pose and load");
	if (!schedule.feasible)
		return `${title}\n${paragraph(`None keep every limit either: ${schedule.infeasibleBecause}.`, width, 2)}`;
	return `${title}\n${AXES.map((axis) => axisTable(schedule, axis, paint, width)).join("")}${paragraph(
		`Between breakpoints each gain goes over by 3 t^2 - 2 t^3 (t from 0 to 1 between two neighbours), first over the angle of '${schedule.hinge}', then over the load that your code knows it carries; beyond the ends it stays. Every limit holds, every loop closed, at ${schedule.checked} poses and loads: at the breakpoints and half-way between in every corner, and at the poses that the proof freezes.`,
		width,
		2,
	)}`;
}

function axisTable({ points, hinge }: ScheduleJson, axis: AxisName, paint: Paint, width: number): string {
	const names = tabledGains(points[0]?.firmwareGains?.[axis] ?? {});
	const unit = (name: string): string => points[0]!.firmwareGains![axis][name]!.unit;
	return table(
		[
			{ title: axis },
			{ title: `${hinge} deg`, align: "right" },
			{ title: "load g", align: "right" },
			...names.map((name) => ({ title: `${gainName(name)} ${unit(name)}`, align: "right" as const })),
		],
		points.map(({ poseDeg, loadGrams, firmwareGains }) => [
			"",
			poseDeg[0]!.toFixed(0),
			loadGrams.toFixed(0),
			...names.map((name) => digits(firmwareGains?.[axis][name]?.value ?? 0, 4)),
		]),
		{ width, paint },
	);
}
