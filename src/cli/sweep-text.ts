import { digits, fixed } from "../report/format.ts";
import type { SweepJson } from "../report/json/sweep.ts";
import { columnTitle, WORDS } from "../report/sweep-words.ts";
import { madeByLine } from "./made-by.ts";
import { type Paint, paragraph, table } from "./text.ts";

/** The names that --result takes, one a line. */
export const resultNames = (names: readonly string[]): string =>
	names.map((name) => `  ${name.padEnd(21)}${columnTitle(name)}: ${WORDS[name]?.meaning ?? ""}\n`).join("");

/** One swept number as a table of everything, two as a grid of the result asked for. */
export function sweepText(result: SweepJson, total: number, paint: Paint, width: number): string {
	const title = columnTitle(result.result);
	const head = `${paint.bold(`${title[0]!.toUpperCase()}${title.slice(1)}`)} of ${result.axis}${result.drill ? ` in drill '${result.drill}'` : ""}: ${WORDS[result.result]?.meaning ?? ""}.`;
	const missing = result.complete
		? ""
		: paint.yellow(`Stopped: ${result.cells.length} of ${total} cells are here.`);
	const column = result.columns.indexOf(result.result);
	const failed = result.cells.filter((cell) => cell.numbers[column] === null);
	return [
		paragraph(head, width) + (missing ? `${missing}\n` : ""),
		result.over.length === 1 ? list(result, paint, width) : grid(result, paint, width),
		/^(crossoverHz|stable|completed)$/.test(result.result) ? "" : best(result, width),
		failed.length > 0
			? `${paint.bold("Cells without that number")}\n${distinct(failed.map((cell) => cell.why))
					.slice(0, 5)
					.map(([why, count]) => paragraph(`- ${count} x ${why}`, width, 2))
					.join("")}`
			: "",
		paint.dim(paragraph(madeByLine(result.madeBy), width)),
	]
		.filter((part) => part !== "")
		.join("\n");
}

function list(result: SweepJson, paint: Paint, width: number): string {
	const [over] = result.over;
	const titles = [`${over!.path} ${over!.unit}`.trim(), ...result.columns.map(columnTitle)];
	const columns = titles.map((title) => ({
		title,
		align: "right" as const,
	}));
	const rows = result.cells.map((cell) => [
		tidy(cell.values[0]!),
		...cell.numbers.map((value, i) => shown(result.columns[i]!, value, 4)),
	]);
	return table(columns, rows, { width, paint });
}

function grid(result: SweepJson, paint: Paint, width: number): string {
	const [down, across] = result.over;
	const column = result.columns.indexOf(result.result);
	const at = new Map(result.cells.map((cell) => [cell.index, cell.numbers[column] ?? null]));
	const rows = down!.values.map((value, i) => [
		tidy(value),
		...across!.values.map((_, j) => {
			const number = at.get(i * across!.values.length + j);
			return number === undefined ? "." : shown(result.result, number, 3);
		}),
	]);
	const columns = [`${down!.path} ${down!.unit}`.trim(), ...across!.values.map(tidy)].map((title) => ({
		title,
		align: "right" as const,
	}));
	return `  across: ${`${across!.path} ${across!.unit}`.trim()}\n${table(columns, rows, { width, paint })}`;
}

function shown(column: string, value: number | null, figures: number): string {
	if (value === null) return "-";
	if (column === "stable" || column === "completed") return value === 1 ? "yes" : "no";
	return digits(value, figures);
}

function best(result: SweepJson, width: number): string {
	const column = result.columns.indexOf(result.result);
	const more = /Radius|Margin/.test(result.result);
	const known = result.cells.filter(
		(cell) => cell.numbers[column] !== null && cell.numbers[column] !== undefined,
	);
	if (known.length === 0) return "";
	const top = known.reduce((a, b) => (more === b.numbers[column]! > a.numbers[column]! ? b : a));
	const where = result.over
		.map((over, i) => `${over.path} ${tidy(top.values[i]!)} ${over.unit}`.trim())
		.join(", ");
	return paragraph(
		`${more ? "Most" : "Least"} ${columnTitle(result.result)}: ${digits(top.numbers[column]!, 4)} at ${where}.`,
		width,
	);
}

function distinct(items: readonly string[]): [string, number][] {
	const counts = new Map<string, number>();
	for (const each of items) counts.set(each, (counts.get(each) ?? 0) + 1);
	return [...counts].sort((a, b) => b[1] - a[1]);
}

const tidy = (value: number): string =>
	Number.isInteger(value) ? fixed(value, 0) : String(Number(value.toPrecision(6)));
