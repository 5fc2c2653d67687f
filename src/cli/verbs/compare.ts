import { Command } from "commander";
import { marginsReport } from "../../analysis/margins-report.ts";
import type { AxisName, GainSet } from "../../control/spec.ts";
import type { OperatingPoint } from "../../craft/model.ts";
import type { Drill } from "../../flight/drill.ts";
import { fly } from "../../flight/engine.ts";
import type { FlightResult } from "../../flight/result.ts";
import { stepPicture, stripPicture, tracesPicture } from "../../pictures/flight-pictures.ts";
import { namedSet } from "../../pictures/letters.ts";
import { pictureSvg } from "../../pictures/svg.ts";
import { busiestAxis } from "../../report/busiest-axis.ts";
import { type Candidate, compareRows, failures } from "../../report/compare-rows.ts";
import { tradeSentence } from "../../report/compare-trade.ts";
import { flightJson } from "../../report/fly-json.ts";
import { firmwareGainsJson, gainsJson } from "../../report/gains.ts";
import type { CompareJson } from "../../report/json/compare.ts";
import type { Scenario } from "../../scenario/model.ts";
import { compareText } from "../compare-text.ts";
import type { CsvCell } from "../csv.ts";
import { BadInput } from "../errors.ts";
import { EXIT } from "../exit.ts";
import type { Io } from "../io.ts";
import { madeBy } from "../made-by.ts";
import { addOutputOptions, emit, type OutputOptions } from "../output.ts";
import { addPlotOptions, type PlotOptions, plotIfAsked, stepAxisOption } from "../plot.ts";
import { progressBar } from "../progress.ts";
import { chooseDrill, choosePoint, chooseSet } from "../scenario-file.ts";
import { addFile, addPoint, type PointOptions } from "../scenario-options.ts";
import type { Session } from "../session.ts";
import { openWithSets } from "../starting-sets.ts";
import { paint } from "../text.ts";
import { examples } from "../verb-help.ts";

type Options = PointOptions &
	OutputOptions &
	PlotOptions & {
		readonly sets?: readonly string[];
		readonly base?: string;
		readonly drill?: readonly string[];
		readonly axis?: AxisName;
	};

export function compareVerb(session: Session): Command {
	const names = (text: string): string[] => text.split(",").map((each) => each.trim());
	const command = new Command("compare")
		.description("Several gain sets on the same flights, side by side, and what each trades for what.")
		.option("--sets <names>", "which sets, such as A,B (default: all in the file)", names)
		.option("--base <name>", "the set that differences are taken from (default: the first)")
		.option(
			"--drill <name>",
			"fly this one; may be given several times (default: all in the file)",
			(name: string, before: readonly string[] = []) => [...before, name],
		)
		.addOption(stepAxisOption())
		.addHelpText(
			"after",
			examples(
				["levelhead compare my-craft.json", "every set, every drill"],
				["levelhead compare my-craft.json --sets A,C --base C --drill 'side gust'", "two sets on one drill"],
				[
					"levelhead compare my-craft.json --drill 'roll step' --plot steps.svg",
					"and draw them one over the other",
				],
			),
		)
		.action((file: string, options: Options) => {
			session.exit = compare(session.io, file, options);
		});
	return addPlotOptions(addOutputOptions(addPoint(addFile(command))), ["step", "traces", "strip"]);
}

function compare(io: Io, file: string, options: Options): number {
	const opened = openWithSets(io, file, ["gentle", "even", "lively"]);
	const { scenario } = opened;
	const sets = options.sets
		? options.sets.map((name) => chooseSet(scenario, name, "--sets"))
		: [...scenario.gainSets];
	if (new Set(sets).size !== sets.length)
		throw new BadInput(`--sets ${options.sets?.join(",")}: a set is named twice`);
	if (sets.length < 2)
		throw new BadInput(
			`only gain set '${sets[0]?.name ?? ""}' to compare: expected two or more`,
			"Add another to the file: 'levelhead tune FILE --name B --save' finds one.",
		);
	const base = options.base === undefined ? sets[0]! : chooseSet(scenario, options.base, "--base");
	if (!sets.includes(base))
		throw new BadInput(
			`--base '${base.name}': not among the sets compared`,
			`They are: ${sets.map((s) => s.name).join(", ")}.`,
		);
	const { name: pointName, point } = choosePoint(scenario, options.point);
	const drills = options.drill ? options.drill.map((name) => chooseDrill(scenario, name)) : scenario.drills;
	if (drills.length === 0)
		throw new BadInput(
			"the scenario has no drill to fly",
			"Add one to the file (docs/scenario.schema.json).",
		);
	const flown = flyAll(io, scenario, sets, drills, point);
	const rows = compareRows(flown, base.name);
	const json: CompareJson = {
		base: base.name,
		sets: sets.map((set, i) => {
			const fails = failures(flown[i]!);
			return {
				name: set.name,
				gains: gainsJson(set),
				firmwareGains: firmwareGainsJson(set, scenario.firmware),
				fails,
				trade: tradeSentence(rows, set.name, base.name, fails),
			};
		}),
		rows,
		flights: flown.flatMap((each) => each.flights.map((flight) => ({ set: each.name, flight }))),
		madeBy: madeBy({
			scenario: { ...opened, name: scenario.name },
			gainSet: sets.map((set) => set.name).join(", "),
			operatingPoint: pointName,
			seed: drills.length === 1 ? drills[0]!.seed : null,
		}),
	};
	emit(io, options, {
		json: () => json,
		csv: () => compareCsv(json),
		text: () => compareText(json, paint(io.colour), io.width),
	});
	const drawn = flown.map((each, i) => ({
		...namedSet(sets[i]!, scenario.gainSets),
		flight: each.results[0]!,
	}));
	const head = {
		title: `Drill '${drills[0]!.name}'`,
		note: `${opened.file}, operating point ${pointName}, levelhead ${json.madeBy.version}`,
		invented: scenario.craft.invented,
	};
	plotIfAsked(io, options, {
		step: () =>
			pictureSvg(stepPicture(head, options.axis ?? busiestAxis(flown[0]!.flights[0]!, drills[0]!), drawn)),
		traces: () => pictureSvg(tracesPicture(head, drawn, scenario.craft)),
		strip: () => pictureSvg(stripPicture(head, drawn)),
	});
	return json.sets.every((set) => set.fails.length === 0) ? EXIT.fine : EXIT.fails;
}

type Flown = Candidate & { readonly results: readonly FlightResult[] };

function flyAll(
	io: Io,
	scenario: Scenario,
	sets: readonly GainSet[],
	drills: readonly Drill[],
	point: OperatingPoint,
): Flown[] {
	const { craft } = scenario;
	const bar = progressBar(io, "compare", sets.length * (drills.length + 1));
	let done = 0;
	const flown = sets.map((set): Flown => {
		const report = marginsReport(craft, set, point);
		bar.update(++done);
		const results = drills.map((drill) => {
			const flight = fly({ craft, point, gainSet: set, drill });
			bar.update(++done);
			return flight;
		});
		return {
			name: set.name,
			margins: report.feasible ? report.report : null,
			flights: results.map((flight, i) => flightJson(flight, craft, point, drills[i]!, set)),
			results,
		};
	});
	bar.end();
	return flown;
}

/** One row per number and set. */
function compareCsv(json: CompareJson): { header: string[]; rows: CsvCell[][] } {
	return {
		header: ["drill", "what", "unit", "better", "set", "value", "difference", "best", "fails"],
		rows: json.rows.flatMap((row) =>
			row.cells.map((cell) => [
				row.drill,
				row.what,
				row.unit,
				row.better,
				cell.set,
				cell.value,
				cell.difference,
				cell.best,
				cell.fails,
			]),
		),
	};
}
