import { Command, Option } from "commander";
import { craftReport } from "../../analysis/craft-report.ts";
import { marginsBrief } from "../../analysis/margins-report.ts";
import type { CheckJson } from "../../report/json/check.ts";
import { CHARACTERS } from "../../tuning/characters.ts";
import { checkFirstMinute } from "../check-first-minute.ts";
import { checkJson, invalidJson } from "../check-json.ts";
import { checkReach, type ReachCliOptions } from "../check-reach.ts";
import { checkStalls } from "../check-stalls.ts";
import { checkText } from "../check-text.ts";
import { checkWrongBuilds } from "../check-wrong-builds.ts";
import { BadInput } from "../errors.ts";
import { EXIT } from "../exit.ts";
import type { Io } from "../io.ts";
import { madeBy } from "../made-by.ts";
import { addOutputOptions, emit } from "../output.ts";
import { addPlotOptions } from "../plot.ts";
import { choosePoint, chooseSet, errorText, readScenario } from "../scenario-file.ts";
import { addFile, addPoint, addSet } from "../scenario-options.ts";
import type { Session } from "../session.ts";
import { paint } from "../text.ts";
import { examples } from "../verb-help.ts";

type Options = ReachCliOptions & {
	readonly wrongBuilds?: boolean;
	readonly firstMinute?: boolean;
	readonly stalls?: boolean;
	readonly reach?: boolean;
};

export function checkVerb(session: Session): Command {
	const command = new Command("check")
		.description(
			"What was built, as the model sees it: findings, hover numbers, mass, and every value that had to be assumed.",
		)
		.option(
			"--wrong-builds",
			"instead: every mistake in building that the simulator knows, flown; what the first 300 ms and the bench show",
		)
		.option(
			"--first-minute",
			"instead: the ten ways it would most likely be lost in its first minute, flown, and how to notice each on the bench",
		)
		.option(
			"--reach",
			"instead: how far the reach arm may go with which load, pose by pose, and what stops it",
		)
		.addOption(
			new Option("--character <name>", "with --reach: whose limits the margins must keep")
				.choices(CHARACTERS)
				.implies({}),
		)
		.option("--poses <n>", "with --reach: how many poses from folded to the stop (default 9)", poseCount)
		.option("--stalls", "instead: how long the control loop may stop at hover, axis by axis")
		.addHelpText(
			"after",
			examples(
				["levelhead check my-craft.json", "can it hover, with what reserve, at which stick?"],
				["levelhead check my-craft.json --point heavy", "the same with the load of that operating point"],
				["levelhead check my-craft.json --wrong-builds", "what a swapped motor looks like, and the rest"],
				["levelhead check my-craft.json --first-minute", "the ten ways it would most likely be lost"],
				["levelhead check my-craft.json --stalls", "how long the loop may stop"],
				["levelhead check my-craft.json --reach --plot reach.svg", "how far and how heavy, and draw it"],
				["levelhead check my-craft.json --json", "for scripts (docs/json.md)"],
			),
		)
		.action((file: string, options: Options) => {
			session.exit = answerOf(options)(session.io, file, options);
		});
	return addPlotOptions(addOutputOptions(addPoint(addSet(addFile(command)))), ["reach"]);
}

function poseCount(text: string): number {
	const n = Number(text);
	if (!(Number.isInteger(n) && n >= 2 && n <= 73))
		throw new BadInput(`--poses ${text}: expected a whole number from 2 to 73`);
	return n;
}

/** @throws BadInput where two reports are asked for at once. */
function answerOf(options: Options): typeof check {
	const asked = [
		["--wrong-builds", options.wrongBuilds, checkWrongBuilds],
		["--first-minute", options.firstMinute, checkFirstMinute],
		["--stalls", options.stalls, checkStalls],
		["--reach", options.reach, checkReach],
	] as const;
	const given = asked.filter(([, wanted]) => wanted);
	if (given.length > 1)
		throw new BadInput(`${given.map(([name]) => name).join(" and ")}: expected one of them at a time`);
	for (const [name, value] of [
		["--character", options.character],
		["--poses", options.poses],
		["--plot", options.plot],
	] as const)
		if (value !== undefined && !options.reach)
			throw new BadInput(`${name} ${value}: belongs to --reach`, "Add --reach.");
	return given[0]?.[2] ?? check;
}

function check(io: Io, file: string, options: Options): number {
	const { source, result } = readScenario(io, file);
	if (!result.ok) {
		if (!options.json) throw new BadInput(errorText(file, result.errors));
		const made = madeBy({ scenario: { ...source, name: "" } });
		emit(io, options, { json: () => invalidJson(result.errors, made), csv: noCsv, text: () => "" });
		return EXIT.badInput;
	}
	const { scenario } = result;
	const { name, point } = choosePoint(scenario, options.point);
	const set =
		scenario.gainSets.length > 0 || options.set !== undefined ? chooseSet(scenario, options.set) : null;
	const margins = set && marginsBrief(scenario.craft, set, point);
	const report = craftReport(scenario.craft, point, margins?.feasible ? margins.brief : null);
	const made = madeBy({
		scenario: { ...source, name: scenario.name },
		gainSet: set?.name ?? null,
		operatingPoint: name,
	});
	const json = checkJson(scenario, point, report, made);
	emit(io, options, {
		json: () => json,
		csv: () => findingsCsv(json),
		text: () => checkText(json, paint(io.colour), io.width),
	});
	return report.verdict.fit ? EXIT.fine : EXIT.fails;
}

const noCsv = () => ({ header: [], rows: [] });

function findingsCsv(json: CheckJson) {
	return {
		header: ["level", "rule", "sentence", "reason"],
		rows: json.findings.map(({ level, rule, sentence, reason }) => [level, rule, sentence, reason]),
	};
}
