import { firstMinute } from "../analysis/first-minute.ts";
import { quoted } from "../analysis/first-minute-again.ts";
import { CAUTIONS } from "../report/cautions.ts";
import { fixed } from "../report/format.ts";
import type { FirstMinuteJson } from "../report/json/first-minute.ts";
import type { Why } from "../report/json/loop-fields.ts";
import { askedFor } from "./asked-for.ts";
import { cautionsText } from "./cautions-text.ts";
import { EXIT } from "./exit.ts";
import type { Io } from "./io.ts";
import { madeByLine } from "./made-by.ts";
import { emit, type OutputOptions } from "./output.ts";
import type { PointOptions, SetOptions } from "./scenario-options.ts";
import { type Paint, paint, paragraph, table } from "./text.ts";

/** `check --first-minute` */
export function checkFirstMinute(
	io: Io,
	file: string,
	options: SetOptions & PointOptions & OutputOptions,
): number {
	const { opened, scenario, set, point, made } = askedFor(io, file, options);
	const found = firstMinute(scenario.craft, point, set);
	const result: FirstMinuteJson = {
		ways: found.ways.map(({ way, title, often, lostSec, first, bench, again }) => ({
			way,
			title,
			often,
			lostSec,
			first,
			bench,
			again: asAsked(again, opened.file, options),
			why: whyNull("lostSec", lostSec, "no single moment"),
		})),
		flown: found.flown,
		survived: [...found.survived],
		cautions: [...CAUTIONS],
		madeBy: made(found.seed),
	};
	emit(io, options, {
		json: () => result,
		csv: () => ({
			header: ["way", "title", "often", "lostSec", "first", "bench", "again"],
			rows: result.ways.map((w) => [w.way, w.title, w.often, w.lostSec, w.first, w.bench, w.again]),
		}),
		text: () => firstMinuteText(result, paint(io.colour), io.width),
	});
	return EXIT.fine;
}

/** The command for this file, with the set and the point that were asked for unless it names its own. */
function asAsked(again: string, file: string, options: SetOptions & PointOptions): string {
	const also = (["set", "point"] as const).flatMap((option) =>
		options[option] === undefined || again.includes(` --${option} `)
			? []
			: [` --${option} ${quoted(options[option])}`],
	);
	return again.replace("FILE", () => quoted(file)) + also.join("");
}

const whyNull = (field: string, value: number | null, reason: string): Why =>
	value === null ? { [field]: reason } : {};

const ABOUT =
	"What would most likely end this craft's first minute: every way was flown with these gains, and those that lost it stand here, the often seen first (how often: common practice, no source), then the soonest. " +
	"Every bench check is with the propellers off.";

/** One block per way: what it is, the first 300 ms, the bench, a command that shows it. */
export function firstMinuteText(result: FirstMinuteJson, paint: Paint, width: number): string {
	const blocks = result.ways.map((way, i) => {
		const lost = way.lostSec === null ? "" : `, lost after ${fixed(way.lostSec, 2)} s`;
		const rows = [
			[paint.dim("first 300 ms"), way.first],
			[paint.dim("on the bench"), way.bench],
			[paint.dim("see it"), `levelhead ${way.again}`],
		];
		return `${paragraph(`${paint.bold(`${i + 1}. ${way.title}`)}${lost}`, width)}${table([{ title: "" }, { title: "", wrap: true }], rows, { width, paint })}`;
	});
	const survived =
		result.survived.length === 0
			? ""
			: paragraph(`Flown as well and not lost: ${result.survived.join("; ")}.`, width);
	return [
		`${paint.bold("The first minute")}\n${paragraph(`${ABOUT} ${result.flown} ways were flown.`, width, 2)}`,
		...blocks,
		survived,
		cautionsText(paint, width),
		paint.dim(paragraph(madeByLine(result.madeBy), width)),
	]
		.filter((part) => part !== "")
		.join("\n");
}
