import { namedSet } from "../pictures/letters.ts";
import { pictureSvg } from "../pictures/svg.ts";
import type { ReachJson } from "../report/json/reach.ts";
import { reachNumbers } from "../report/reach-json.ts";
import { reachPicture } from "../report/reach-picture.ts";
import { REACH_COLUMN_WORDS, REACH_COLUMNS, reachRows } from "../report/reach-table.ts";
import { reachSentence } from "../report/reach-words.ts";
import { type Character, limitsOf } from "../tuning/characters.ts";
import { mostLoad, REACH_POSES, type ReachLine, reachLines, reachReport } from "../tuning/reach-report.ts";
import { askedFor } from "./asked-for.ts";
import { cautionsText } from "./cautions-text.ts";
import { BadInput } from "./errors.ts";
import { EXIT } from "./exit.ts";
import type { Io } from "./io.ts";
import { madeByLine } from "./made-by.ts";
import { emit, type OutputOptions, save } from "./output.ts";
import { progressBar } from "./progress.ts";
import type { PointOptions, SetOptions } from "./scenario-options.ts";
import { type Paint, paint, paragraph, right, table } from "./text.ts";

export type ReachCliOptions = SetOptions &
	PointOptions &
	OutputOptions & { readonly character?: Character; readonly poses?: number; readonly plot?: string };

/** `check --reach` */
export function checkReach(io: Io, file: string, options: ReachCliOptions): number {
	const { scenario, set, point, made } = askedFor(io, file, options);
	const { craft } = scenario;
	if (!craft.limb)
		throw new BadInput(
			`--reach: ${file} has no craft.limb`,
			"Describe the reach arm in craft.limb: docs/scenario.schema.json, scenarios/sandpiper.json",
		);
	const character = options.character ?? "even";
	const limits = limitsOf(character, scenario.tuning[character]);
	const mostKg = mostLoad(craft);
	const poses = options.poses ?? REACH_POSES;
	const lines: ReachLine[] = [];
	const bar = progressBar(io, "poses", poses);
	for (const line of reachLines(craft, set, limits, point, { poses, mostKg })) {
		lines.push(line);
		bar.update(lines.length);
	}
	bar.end();
	const json: ReachJson = {
		...reachNumbers(reachReport(craft, lines, mostKg), character),
		madeBy: made(),
	};
	const link = craft.limb.links[0]!.name;
	if (options.plot !== undefined) {
		const named = namedSet(set, scenario.gainSets);
		const picture = reachPicture(json, {
			craft: craft.name,
			invented: craft.invented,
			link,
			letter: named.letter,
			setName: named.name,
		});
		save(io, options.plot, pictureSvg(picture), "reach-and-load picture");
	}
	emit(io, options, {
		json: () => json,
		csv: () => reachCsv(json),
		text: () =>
			reachText(
				json,
				link,
				craft.limb!.links.map((l) => l.name),
				paint(io.colour),
				io.width,
			),
	});
	return json.farthest ? EXIT.fine : EXIT.fails;
}

function reachCsv(json: ReachJson) {
	return {
		header: ["poseDeg", "reachMm", "clearanceMm", "reserveGrams", "heaviestGrams", "stops"],
		rows: json.poses.map((p) => [
			p.poseDeg.map((a) => a.toFixed(1)).join(" "),
			p.reachMm,
			p.clearanceMm,
			p.reserveGrams,
			p.heaviestGrams,
			p.refused || p.stops,
		]),
	};
}

function reachText(
	json: ReachJson,
	link: string,
	links: readonly string[],
	paint: Paint,
	width: number,
): string {
	const whole = (v: number | null): string => (v === null ? "-" : v.toFixed(0));
	const first = table(
		[
			{ title: links.join(", ") },
			right("reach mm"),
			right("clear mm"),
			right("by reserve g"),
			right("heaviest g"),
			{ title: "what stops it", wrap: true },
		],
		json.poses.map((p) => [
			p.poseDeg.map((a) => `${a.toFixed(0)}`).join(", "),
			whole(p.reachMm),
			whole(p.clearanceMm),
			whole(p.reserveGrams),
			whole(p.heaviestGrams),
			p.refused || p.stops || `nothing up to ${json.mostLoadGrams.toFixed(0)} g`,
		]),
		{ width, paint },
	);
	const second = table(
		[{ title: "pose deg" }, ...REACH_COLUMNS.map(({ short }) => right(short))],
		reachRows(json),
		{ width, paint },
	);
	return [
		`${paint.bold("Reach and load")}\n${paragraph(reachSentence(json, link), width)}`,
		first +
			paragraph(
				"Reach: the grip from the middle, level. Clear: the limb from the nearest propeller. By reserve: the heaviest load with which motors and servos keep what is kept free; heaviest: with which the margins hold too.",
				width,
				2,
			),
		`${paint.bold("Without a load, and with what it is meant to carry")}\n${second}`,
		paragraph(
			`${REACH_COLUMN_WORDS} Kept free: 15 % above every motor, half of every servo's torque (common practice, no source), and the limits of the character.`,
			width,
			2,
		),
		cautionsText(paint, width),
		paint.dim(paragraph(madeByLine(json.madeBy), width)),
	].join("\n");
}
