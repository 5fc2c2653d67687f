import { digits, fixed } from "./format.ts";
import type { SweepJson } from "./json/sweep.ts";
import { madeByLine } from "./made-by.ts";
import { type Paint, paragraph, table } from "./text.ts";

const MEANING: { readonly [column: string]: string } = {
	stable: "1 stable, 0 not",
	stabilityRadius: "distance to instability: least |1 + L| over all openings; 0.5 or more is calm",
	rateLoopMs: "peak of the rate loop's sensitivity; below 2 is calm",
	phaseMarginDeg: "least phase margin over all openings, degrees",
	gainMarginUpDb: "how far the gain may rise, dB",
	gainMarginDownDb: "how far the gain may fall, dB",
	delayMarginMs: "how much more delay it bears, ms",
	crossoverHz: "how fast the rate loop acts, Hz",
	completed: "1 flown to the end, 0 not",
	overshootPct: "of the step, per cent",
	riseTimeMs: "10 to 90 %, ms",
	settlingTimeMs: "within 2 % for good, ms",
	steadyStateErrorDeg: "at the end, degrees (yaw: deg/s)",
	iaeDegSec: "distance from the set-point summed over time, less is better",
	saturatedPct: "share of the time with a motor at its end, per cent",
};

/** One swept number as a table of everything, two as a grid of the result asked for. */
export function sweepText(result: SweepJson, total: number, paint: Paint, width: number): string {
	const head = `${paint.bold(result.result)}: ${MEANING[result.result] ?? ""} (${result.axis}${result.drill ? `, drill '${result.drill}'` : ""})`;
	const missing = result.complete
		? ""
		: paint.yellow(`Stopped: ${result.cells.length} of ${total} cells are here.`);
	const column = result.columns.indexOf(result.result);
	const failed = result.cells.filter((cell) => cell.numbers[column] === null);
	return [
		paragraph(head, width) + (missing ? `${missing}\n` : ""),
		result.over.length === 1 ? list(result, paint, width) : grid(result, paint, width),
		/crossover/.test(result.result) ? "" : best(result, width),
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
	const columns = [over!.path + (over!.unit ? ` ${over!.unit}` : ""), ...result.columns].map((title) => ({
		title,
		align: "right" as const,
	}));
	const rows = result.cells.map((cell) => [
		tidy(cell.values[0]!),
		...cell.numbers.map((value) => (value === null ? "-" : digits(value, 4))),
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
			return number === undefined ? "." : number === null ? "-" : digits(number, 3);
		}),
	]);
	const columns = [`${down!.path} ${down!.unit}`.trim(), ...across!.values.map(tidy)].map((title) => ({
		title,
		align: "right" as const,
	}));
	return `  across: ${`${across!.path} ${across!.unit}`.trim()}\n${table(columns, rows, { width, paint })}`;
}

function best(result: SweepJson, width: number): string {
	const column = result.columns.indexOf(result.result);
	const more = /stable|Radius|Margin|completed/.test(result.result);
	const known = result.cells.filter(
		(cell) => cell.numbers[column] !== null && cell.numbers[column] !== undefined,
	);
	if (known.length === 0) return "";
	const top = known.reduce((a, b) => (more === b.numbers[column]! > a.numbers[column]! ? b : a));
	const where = result.over
		.map((over, i) => `${over.path} ${tidy(top.values[i]!)} ${over.unit}`.trim())
		.join(", ");
	return paragraph(
		`${more ? "Most" : "Least"} ${result.result}: ${digits(top.numbers[column]!, 4)} at ${where}.`,
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
