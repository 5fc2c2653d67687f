import { wrongBuilds } from "../analysis/wrong-builds.ts";
import type { WrongBuildsJson } from "../report/json/wrong-builds.ts";
import { askedFor } from "./asked-for.ts";
import type { CsvCell } from "./csv.ts";
import { EXIT } from "./exit.ts";
import type { Io } from "./io.ts";
import { emit, type OutputOptions } from "./output.ts";
import type { PointOptions, SetOptions } from "./scenario-options.ts";
import { paint } from "./text.ts";
import { wrongBuildsJson } from "./wrong-builds-json.ts";
import { wrongBuildsText } from "./wrong-builds-text.ts";

/** `check --wrong-builds`; fails when the right build does not fly. */
export function checkWrongBuilds(
	io: Io,
	file: string,
	options: SetOptions & PointOptions & OutputOptions,
): number {
	const { scenario, set, point, made } = askedFor(io, file, options);
	const report = wrongBuilds(scenario.craft, point, set);
	const result = wrongBuildsJson(report, made(report.seed));
	emit(io, options, {
		json: () => result,
		csv: () => wrongBuildsCsv(result),
		text: () => wrongBuildsText(result, paint(io.colour), io.width),
	});
	return result.right.status === "completed" ? EXIT.fine : EXIT.fails;
}

function wrongBuildsCsv(result: WrongBuildsJson): { header: string[]; rows: CsvCell[][] } {
	const header = [
		"kind",
		"title",
		"motors",
		"status",
		"timeSec",
		"direction",
		"fallSec",
		"tilt300Deg",
		"tiltDeg",
		"sideByChance",
		"first",
		"bench",
		"apart",
	];
	const rows = result.builds.map((b): CsvCell[] => [
		b.kind,
		b.title,
		b.motors.join(" "),
		b.status,
		b.timeSec,
		b.fall.direction,
		b.fall.fallSec,
		b.fall.tilt300Deg,
		b.fall.tiltDeg,
		b.sideByChance,
		b.first,
		b.bench,
		b.apart,
	]);
	return { header, rows };
}
