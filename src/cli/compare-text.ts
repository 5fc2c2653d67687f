import { digits } from "../report/format.ts";
import { gainName } from "../report/gains.ts";
import type { CompareJson } from "../report/json/compare.ts";
import { madeByLine } from "./made-by.ts";
import { type Paint, paragraph, table } from "./text.ts";

/** What `compare` says: a sentence on each set, then the numbers side by side. */
export function compareText(result: CompareJson, paint: Paint, width: number): string {
	const sentences = result.sets.map(({ trade, fails }) =>
		paragraph(
			`${fails.length > 0 ? paint.red(paint.bold("stop")) : paint.green(paint.bold("fine"))}  ${trade}`,
			width,
		),
	);
	return [
		sentences.join(""),
		rowsText(result, paint, width),
		gainsText(result, paint, width),
		paint.dim(paragraph(madeByLine(result.madeBy), width)),
	].join("\n");
}

function rowsText(result: CompareJson, paint: Paint, width: number): string {
	const names = result.sets.map((set) => set.name);
	const columns = [
		{ title: "" },
		{ title: "unit" },
		...names.map((name) => ({
			title: name === result.base ? `${name} (base)` : name,
			align: "right" as const,
		})),
		{ title: "better is" },
	];
	const rows: string[][] = [];
	let before: string | null | undefined;
	const shown = result.rows.filter(differs);
	for (const row of shown) {
		if (row.drill !== before) rows.push([paint.bold(row.drill === null ? "margins" : `drill ${row.drill}`)]);
		before = row.drill;
		rows.push([
			`  ${row.what}`,
			row.unit,
			...row.cells.map((cell) => {
				const value = cell.value === null ? "-" : digits(cell.value, 3);
				const change =
					cell.difference === null || cell.set === result.base || cell.value === null
						? ""
						: ` (${cell.difference < 0 ? "-" : "+"}${digits(Math.abs(cell.difference), 2)})`;
				const mark = cell.fails ? paint.red(" FAILS") : cell.best ? paint.green(" best") : "     ";
				return `${value}${change}${mark}`;
			}),
			row.better,
		]);
	}
	return `${table(columns, rows, { width, paint })}${paragraph("In brackets: difference to the base. 'best': the best of those that do not fail. '-': does not apply. Numbers that are the same for every set are left out.", width, 2)}`;
}

/** Rows that tell the sets apart: a value differs in its third figure, is missing for some, or fails. */
function differs({ cells }: CompareJson["rows"][number]): boolean {
	const [first] = cells;
	return cells.some((cell) => cell.fails || text(cell.value) !== text(first!.value));
}

const text = (value: number | null): string => (value === null ? "-" : digits(value, 3));

function gainsText(result: CompareJson, paint: Paint, width: number): string {
	const rows = (["roll", "pitch", "yaw"] as const).flatMap((axis) =>
		["kp", "ki", "kd", "Ti", "Td", "kAngle"].flatMap((gain) => {
			const numbers = result.sets.map((set) => set.firmwareGains[axis][gain]);
			const unit = numbers.find(Boolean)?.unit;
			if (unit === undefined) return [];
			return [
				[`${axis} ${gainName(gain)}`, unit, ...numbers.map((each) => (each ? digits(each.value, 4) : "-"))],
			];
		}),
	);
	const columns = [
		{ title: "" },
		{ title: "unit" },
		...result.sets.map((set) => ({ title: set.name, align: "right" as const })),
	];
	const conversion = result.sets[0]?.firmwareGains.conversion ?? "";
	return `${paint.bold("The gains, in the units of your own code")}\n${table(columns, rows, { width, paint })}  Conversion: ${conversion}\n`;
}
