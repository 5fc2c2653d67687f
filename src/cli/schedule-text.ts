import { AXES, type AxisName } from "../control/spec.ts";
import { digits } from "../report/format.ts";
import type { ScheduleJson } from "../report/schedule-json.ts";
import { type SchedulePoint, scheduleTable } from "../report/schedule-points.ts";
import { scheduleRule } from "../report/schedule-words.ts";
import { type Paint, paragraph, table } from "./text.ts";

/** Gains over poses and loads, as typed into the builder's code; empty where none were asked for. */
export function scheduleText(schedule: ScheduleJson | null, paint: Paint, width: number): string {
	if (!schedule) return "";
	const title = paint.bold("Gains that follow pose and load");
	if (!schedule.feasible)
		return `${title}\n${paragraph(`None keep every limit either: ${schedule.infeasibleBecause}.`, width, 2)}`;
	const points = schedule.points.map((each) => ({ ...each, angleDeg: each.poseDeg[0]! }));
	return `${title}\n${AXES.map((axis) => axisTable(points, schedule.hinge, axis, paint, width)).join("")}${paragraph(
		`${scheduleRule(schedule.hinge)} Every limit holds, every loop closed, at ${schedule.checked} poses and loads: at the breakpoints and half-way between in every corner, and at the poses that the proof freezes.`,
		width,
		2,
	)}`;
}

/** One axis's gains over angle and load. */
function axisTable(
	points: readonly SchedulePoint[],
	hinge: string,
	axis: AxisName,
	paint: Paint,
	width: number,
): string {
	const { gains, rows } = scheduleTable(points, axis);
	return table(
		[
			{ title: axis },
			{ title: `${hinge} deg`, align: "right" },
			{ title: "load g", align: "right" },
			...gains.map(({ name, unit }) => ({ title: `${name} ${unit}`, align: "right" as const })),
		],
		rows.map(({ angleDeg, loadGrams, values }) => [
			"",
			angleDeg.toFixed(0),
			loadGrams.toFixed(0),
			...values.map((value) => (value === null ? "-" : digits(value, 4))),
		]),
		{ width, paint },
	);
}
