import { AXES } from "../control/spec.ts";
import type { MarginsJson } from "../report/json/margins.ts";
import { OPENINGS } from "../report/margin-limits.ts";
import type { CsvCell } from "./csv.ts";

const FIELDS = [
	"stable",
	"gainMarginUpDb",
	"gainMarginDownDb",
	"phaseMarginDeg",
	"delayMarginMs",
	"crossoverHz",
	"bandwidthHz",
	"ms",
	"mt",
] as const;
const EXACT = ["gainMarginUpDb", "gainMarginDownDb", "delayMarginMs"] as const;

/** One row per axis and opening; the exact (periodic) answer in the last columns. */
export function marginsCsv(result: MarginsJson): { header: string[]; rows: CsvCell[][] } {
	const rows: CsvCell[][] = [];
	for (const axis of AXES)
		for (const [key] of OPENINGS) {
			const loop = result.axes[axis][key];
			const exact = result.periodic.axes[axis][key];
			if (!loop) continue;
			rows.push([axis, key, ...FIELDS.map((f) => loop[f]), ...EXACT.map((f) => exact?.[f] ?? null)]);
		}
	const periodicName = (field: string): string => `periodic${field[0]!.toUpperCase()}${field.slice(1)}`;
	return { header: ["axis", "loop", ...FIELDS, ...EXACT.map(periodicName)], rows };
}
