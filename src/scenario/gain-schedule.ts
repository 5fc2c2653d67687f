import {
	AXES,
	type AxisName,
	type GainSchedule,
	SCHEDULED_GAINS,
	type ScheduledGain,
} from "../control/spec.ts";
import type { Craft } from "../craft/model.ts";
import type { Notes } from "../craft/notes.ts";
import { formatQuantity } from "../units/format.ts";
import type { ScheduleInput } from "./schedule-schema.ts";

type Tables = { readonly [G in ScheduledGain]?: readonly (readonly number[])[] | undefined };

/** A file's schedule; null where it cannot be read, which `notes` then say. */
export function resolveSchedule(
	input: ScheduleInput,
	path: string,
	craft: Craft,
	notes: Notes,
): GainSchedule | null {
	const before = notes.problems.length;
	const links = craft.limb?.links ?? [];
	const link = input.hinge === undefined ? 0 : links.findIndex(({ name }) => name === input.hinge);
	const moves = input.angles !== undefined && input.angles.length > 1;
	if (link < 0)
		notes.problem(
			`${path}.hinge`,
			input.hinge,
			links.length > 0
				? `a link of the limb: ${links.map(({ name }) => name).join(", ")}`
				: "no hinge, since the craft has no limb",
		);
	else if (moves && links.length === 0)
		notes.problem(`${path}.angles`, input.angles, "no angles, since the craft has no limb (craft.limb)");
	const anglesRad = input.angles ?? [0];
	const loadsKg = input.loads ?? [0];
	ascending(anglesRad, `${path}.angles`, "angle", notes);
	ascending(loadsKg, `${path}.loads`, "mass", notes);
	const tablesOf = (axis: AxisName): Tables => input[axis] ?? {};
	for (const axis of AXES)
		for (const gain of SCHEDULED_GAINS)
			checkTable(tablesOf(axis)[gain], `${path}.${axis}.${gain}`, anglesRad.length, loadsKg.length, notes);
	if (notes.problems.length > before) return null;
	const ones = anglesRad.map(() => loadsKg.map(() => 1));
	const axisFactors = (axis: AxisName) =>
		Object.fromEntries(
			SCHEDULED_GAINS.map((gain) => [gain, tablesOf(axis)[gain] ?? ones]),
		) as GainSchedule["factors"][AxisName];
	return {
		link,
		hinge: links[link]?.name ?? "",
		anglesRad,
		loadsKg,
		factors: { roll: axisFactors("roll"), pitch: axisFactors("pitch"), yaw: axisFactors("yaw") },
	};
}

function ascending(values: readonly number[], path: string, kind: "angle" | "mass", notes: Notes): void {
	values.forEach((value, i) => {
		const last = values[i - 1];
		if (last !== undefined && !(value > last))
			notes.problem(
				`${path}[${i}]`,
				formatQuantity(kind, value),
				`above ${formatQuantity(kind, last)}, the breakpoint before it`,
			);
	});
}

function checkTable(
	table: readonly (readonly number[])[] | undefined,
	path: string,
	rows: number,
	columns: number,
	notes: Notes,
): void {
	if (!table) return;
	if (table.length !== rows)
		notes.problem(path, table, `${rows} ${rows === 1 ? "row" : "rows"}, one per angle`);
	table.forEach((row, i) => {
		if (row.length !== columns)
			notes.problem(`${path}[${i}]`, row, `${columns} ${columns === 1 ? "factor" : "factors"}, one per load`);
	});
}

/** A schedule as the file writes it, plain SI numbers. */
export function scheduleDocument(schedule: GainSchedule): Record<string, unknown> {
	const axis = (name: AxisName) =>
		Object.fromEntries(
			SCHEDULED_GAINS.filter((gain) =>
				schedule.factors[name][gain].flat().some((factor) => factor !== 1),
			).map((gain) => [gain, schedule.factors[name][gain]]),
		);
	return {
		...(schedule.hinge === "" ? {} : { hinge: schedule.hinge, angles: schedule.anglesRad }),
		loads: schedule.loadsKg,
		...Object.fromEntries(
			AXES.map((name) => [name, axis(name)]).filter(([, tables]) => Object.keys(tables!).length > 0),
		),
	};
}
