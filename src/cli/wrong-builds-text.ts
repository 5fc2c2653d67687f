import { listed } from "../analysis/bench-sentences.ts";
import type { WrongBuildsJson } from "../report/json/wrong-builds.ts";
import { cautionsText } from "./cautions-text.ts";

import { madeByLine } from "./made-by.ts";
import { type Paint, paragraph, table } from "./text.ts";

const ABOUT =
	"Each mistake was flown with these gains: from rest on level ground, still air, sticks at rest, throttle up to a little more than hover in a second. Times count from when it gets light: the right build's thrust at 80 % of its weight. " +
	"The bench lines are what the craft's own control law and mixer tell each motor. Every bench check is with the propellers off, the craft in the hand, the commands read from a log or a screen; " +
	"sizes are shares of full command.";

/** One block per mistake: what it is, the first 300 ms, the bench, how to tell it from the others. */
export function wrongBuildsText(result: WrongBuildsJson, paint: Paint, width: number): string {
	const blocks = result.builds.map((build) => {
		const motors =
			build.motors.length > 0
				? `, ${build.motors.length === 1 ? "motor" : "motors"} ${listed(build.motors)}`
				: "";
		const chosen = build.chosen ? ` (${build.chosen})` : "";
		const rows = [
			[paint.dim("first 300 ms"), build.first],
			[paint.dim("on the bench"), build.bench],
			[paint.dim("told apart"), build.apart],
		];
		return `${paragraph(`${paint.bold(build.kind)}  ${build.title}${motors}${chosen}`, width)}${table([{ title: "" }, { title: "", wrap: true }], rows, { width, paint })}`;
	});
	return [
		`${paint.bold("Wrong builds")}\n${paragraph(ABOUT, width, 2)}`,
		`${paint.bold(paint.green("right build"))}\n${paragraph(result.right.first, width, 2)}`,
		...blocks,
		cautionsText(paint, width),
		paint.dim(paragraph(madeByLine(result.madeBy), width)),
	].join("\n");
}
