import type { GainSet } from "../control/spec.ts";
import type { Craft } from "../craft/model.ts";
import type { FirmwareUnits } from "../handover/firmware-units.ts";
import { describeConversion } from "../handover/unit-labels.ts";
import { firmwareGainsJson, gainRows } from "../report/gains.ts";
import { type Paint, paragraph, table } from "./text.ts";

/** Gains as typed into the builder's code, with the internal number beside. */
export function gainsTable(
	set: GainSet,
	units: FirmwareUnits,
	craft: Craft,
	paint: Paint,
	width: number,
): string {
	/** Each is explained once. */
	const said = new Set<string>();
	let axisBefore = "";
	const rows = gainRows(set, units, craft).map(({ axis, name, value, unit, internal, what }) => {
		const row = [
			axis === axisBefore ? "" : axis,
			name,
			paint.bold(value),
			unit,
			internal,
			said.has(name) ? "" : what,
		];
		said.add(name);
		axisBefore = axis;
		return row;
	});
	const columns = [
		{ title: "axis" },
		{ title: "gain" },
		{ title: "type this in", align: "right" },
		{ title: "unit" },
		{ title: "internal" },
		{ title: "what it does", wrap: true },
	] as const;
	const { limbLead } = firmwareGainsJson(set, units, craft);
	return [
		table(columns, rows, { width, paint }),
		`  Conversion: ${describeConversion(set, units)}\n`,
		...(limbLead ? [paragraph(limbLead, width, 2)] : []),
	].join("");
}
