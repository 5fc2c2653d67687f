import { AXES } from "../../control/spec.ts";
import { type SchedulePoint, scheduleTable } from "../../report/schedule-points.ts";
import { type DataCell, DataTable } from "./data-table.tsx";

/** Gains over poses and loads, a table per axis, in the units of the builder's own code. */
export function ScheduleTables({
	points,
	hinge,
}: {
	readonly points: readonly SchedulePoint[];
	readonly hinge: string;
}) {
	return (
		<>
			{AXES.map((axis) => {
				const { gains, rows } = scheduleTable(points, axis);
				return (
					<DataTable
						key={axis}
						caption={`${axis} over pose and load, in the units of your own code`}
						columns={[
							{ title: hinge === "" ? "angle" : hinge, unit: "deg" },
							{ title: "load", unit: "g", number: true },
							...gains.map(({ name, unit }) => ({ title: name, unit, number: true })),
						]}
						rows={rows.map(({ angleDeg, loadGrams, values }) => [
							angleDeg.toFixed(0),
							loadGrams.toFixed(0),
							...values.map(
								(value): DataCell => ({
									text: value === null ? "-" : String(Number(value.toPrecision(4))),
									exact: value,
								}),
							),
						])}
					/>
				);
			})}
		</>
	);
}
