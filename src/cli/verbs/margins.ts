import { Command } from "commander";
import { marginsReport } from "../../analysis/margins-report.ts";
import { EXIT } from "../exit.ts";
import type { Io } from "../io.ts";
import { madeBy } from "../made-by.ts";
import { marginsCsv } from "../margins-csv.ts";
import { marginsJson } from "../margins-json.ts";
import { marginsText } from "../margins-text.ts";
import { addOutputOptions, emit, type OutputOptions } from "../output.ts";
import { addPlotOptions, type PlotOptions } from "../plot.ts";
import { choosePoint, chooseSet } from "../scenario-file.ts";
import { addFile, addPoint, addSet, type PointOptions, type SetOptions } from "../scenario-options.ts";
import type { Session } from "../session.ts";
import { openWithSets } from "../starting-sets.ts";
import { paint } from "../text.ts";
import { unflyable } from "../unflyable.ts";
import { examples } from "../verb-help.ts";

type Options = SetOptions & PointOptions & OutputOptions & PlotOptions;

export function marginsVerb(session: Session): Command {
	const command = new Command("margins")
		.description(
			"How far a gain set is from shaking by itself: margins of every loop, exact and by frequency.",
		)
		.addHelpText(
			"after",
			examples(
				["levelhead margins my-craft.json", "the first gain set at the first operating point"],
				["levelhead margins my-craft.json --set B --point heavy", "another set, another operating point"],
				["levelhead margins my-craft.json --plot bode.svg", "and draw it"],
				["levelhead margins my-craft.json --json", "for scripts (docs/json.md)"],
			),
		)
		.action((file: string, options: Options) => {
			session.exit = margins(session.io, file, options);
		});
	addPlotOptions(addOutputOptions(addPoint(addSet(addFile(command)))), ["bode", "nyquist"]);
	return command;
}

function margins(io: Io, file: string, options: Options): number {
	const opened = openWithSets(io, file, ["even"]);
	const { scenario } = opened;
	const set = chooseSet(scenario, options.set);
	const { name, point } = choosePoint(scenario, options.point);
	const found = marginsReport(scenario.craft, set, point);
	if (!found.feasible) return unflyable(io, `at operating point ${name}: ${found.reason}`);
	const made = madeBy({
		scenario: { ...opened, name: scenario.name },
		gainSet: set.name,
		operatingPoint: name,
	});
	const result = marginsJson(found.report, made);
	emit(io, options, {
		json: () => result,
		csv: () => marginsCsv(result),
		text: () => marginsText(result, paint(io.colour), io.width),
	});
	return result.limits.met ? EXIT.fine : EXIT.fails;
}
