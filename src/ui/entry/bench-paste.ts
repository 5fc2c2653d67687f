import type { KindName } from "../../units/kinds.ts";
import { parseQuantity } from "../../units/parse.ts";
import { readDelimited } from "./delimited.ts";

export type BenchKey = "command" | "thrust" | "speed" | "torque" | "voltage" | "current";

interface BenchColumn {
	readonly kind: KindName;
	/** Headings that mean it, as words. */
	readonly words: RegExp;
	/** Units that a number without one may be taken in; the first where nothing is said. */
	readonly units: readonly string[];
}

/** In the order that columns without headings are taken in. */
export const BENCH_PASTE: Readonly<Record<BenchKey, BenchColumn>> = {
	command: { kind: "fraction", words: /^(command|throttle|stick|duty)/, units: ["%", "0 to 1"] },
	thrust: { kind: "force", words: /^(thrust|force|pull|lift)/, units: ["g", "kg", "N", "oz", "lb"] },
	speed: { kind: "rotorSpeed", words: /^(speed|rpm|rev|rotor|motor speed)/, units: ["rpm", "rad/s"] },
	torque: { kind: "torque", words: /^(torque|moment)/, units: ["N m", "mN m"] },
	voltage: { kind: "voltage", words: /^(volt|v$|u$)/, units: ["V"] },
	current: { kind: "current", words: /^(current|amp|a$|i$)/, units: ["A", "mA"] },
};

export const BENCH_KEYS = Object.keys(BENCH_PASTE) as BenchKey[];

/** The unit of each column's plain numbers, where its heading does not say. */
export type PlainUnits = Readonly<Record<BenchKey, string>>;

export type Pasted =
	| {
			readonly ok: true;
			/** As the document has them: numbers with their units. */
			readonly rows: readonly Readonly<Partial<Record<BenchKey, string | number>>>[];
			/** How it was understood. */
			readonly said: string;
	  }
	/** One sentence for each thing wrong: row, column, value, what was expected. */
	| { readonly ok: false; readonly problems: readonly string[] };

interface Taken {
	readonly key: BenchKey;
	readonly at: number;
	readonly unit: string;
}

/** Reads a bench table as it is copied out of a spreadsheet, with or without a line of headings. */
export function readBench(text: string, plain: PlainUnits): Pasted {
	const { separator, rows } = readDelimited(text);
	const first = rows[0];
	if (!first)
		return { ok: false, problems: ["nothing was pasted; expected rows of command, thrust and so on"] };
	const hasHeadings = first.every((cell) => cell === "" || !/^[+-]?[\d.,]+/.test(cell));
	const { taken, left } = hasHeadings ? byHeading(first, plain) : byPlace(first, plain);
	const missing = (["command", "thrust"] as const).filter((key) => !taken.some((each) => each.key === key));
	if (missing.length > 0)
		return {
			ok: false,
			problems: missing.map((key) => `headings '${first.join("', '")}': expected one that says ${key}`),
		};
	const problems: string[] = [];
	const read = (hasHeadings ? rows.slice(1) : rows).map((cells, i) => {
		const row: Partial<Record<BenchKey, string | number>> = {};
		for (const { key, at, unit } of taken) {
			const cell = cells[at] ?? "";
			if (cell === "" && key !== "command" && key !== "thrust") continue;
			const value = cellValue(cell, key, unit, separator);
			if (typeof value === "object") problems.push(`row ${i + 1}, ${key}: ${value.problem}`);
			else row[key] = value;
		}
		return row;
	});
	if (problems.length > 0) return { ok: false, problems: problems.slice(0, 6) };
	if (read.length < 2) return { ok: false, problems: [`${read.length} row of numbers; expected at least 2`] };
	const columns = taken.map(({ key, unit }) => `${key} in ${unit}`).join(", ");
	const rest = left.length === 0 ? "" : `; left out: ${left.map((each) => `'${each}'`).join(", ")}`;
	return { ok: true, rows: read, said: `${read.length} rows read: ${columns}${rest}.` };
}

function byHeading(headings: readonly string[], plain: PlainUnits): { taken: Taken[]; left: string[] } {
	const taken: Taken[] = [];
	const left: string[] = [];
	headings.forEach((heading, at) => {
		const words = heading
			.toLowerCase()
			.replace(/[^a-z ]+/g, " ")
			.trim();
		const key = BENCH_KEYS.find((each) => BENCH_PASTE[each].words.test(words));
		if (!key || taken.some((each) => each.key === key)) {
			if (heading !== "") left.push(heading);
			return;
		}
		taken.push({ key, at, unit: headingUnit(heading, key) ?? plain[key] });
	});
	return { taken, left };
}

/** 'thrust, g', 'Thrust (g)', 'thrust [g]' and 'RPM' say a unit. */
function headingUnit(heading: string, key: BenchKey): string | null {
	const { kind } = BENCH_PASTE[key];
	const inside = /[([,/]\s*([^)\]]+?)\s*[)\]]?\s*$/.exec(heading)?.[1];
	for (const said of [inside, heading].map((each) => each?.trim() ?? "")) {
		const unit = /^gf$/i.test(said) ? "g" : /^[A-Z]{3,}$/.test(said) ? said.toLowerCase() : said;
		if (unit !== "" && parseQuantity(kind, `1 ${unit}`).ok) return unit;
	}
	return null;
}

function byPlace(cells: readonly string[], plain: PlainUnits): { taken: Taken[]; left: string[] } {
	const taken = BENCH_KEYS.slice(0, cells.length).map((key, at) => ({ key, at, unit: plain[key] }));
	return { taken, left: cells.length > BENCH_KEYS.length ? cells.slice(BENCH_KEYS.length) : [] };
}

/** A cell as the document has it: '620 g'; a share without a unit as a plain number. */
function cellValue(
	cell: string,
	key: BenchKey,
	unit: string,
	separator: string,
): string | number | { readonly problem: string } {
	const { kind } = BENCH_PASTE[key];
	if (/^[+-]?\d{1,3},\d{3}(?!\d)/.test(cell) && separator !== ";")
		return {
			problem: `'${cell}' could be thousands or a decimal comma; write ${cell.replace(",", "")} or ${cell.replace(",", ".")}`,
		};
	const text = cell.replace(/^([+-]?\d*),(\d+)/, "$1.$2");
	const isBare = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?$/.test(text);
	const complete = !isBare ? text : unit === "0 to 1" ? Number(text) : `${text} ${unit}`;
	const read = parseQuantity(kind, complete);
	if (!read.ok)
		return { problem: `'${cell}', expected ${read.expected}${!isBare && read.hint ? `; ${read.hint}` : ""}` };
	if (key === "command" && !(read.value >= 0 && read.value <= 1))
		return {
			problem: `'${cell}' is ${Number((100 * read.value).toPrecision(4))} % of full command; expected 0 to 100 %, of a pulse its share of the way from shortest to longest`,
		};
	return complete;
}
