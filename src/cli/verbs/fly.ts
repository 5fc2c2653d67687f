import { Command } from "commander";
import { AXES, type AxisName } from "../../control/spec.ts";
import { fly as flyDrill } from "../../flight/engine.ts";
import { stepPicture, stripPicture, tracesPicture } from "../../pictures/flight-pictures.ts";
import { namedSet } from "../../pictures/letters.ts";
import { pictureSvg } from "../../pictures/svg.ts";
import { busiestAxis } from "../../report/busiest-axis.ts";
import { errorsOf, flightJson } from "../../report/fly-json.ts";
import type { FlyJson } from "../../report/json/fly.ts";
import { rigsJson } from "../../report/rig-json.ts";
import type { CsvCell } from "../csv.ts";
import { BadInput } from "../errors.ts";
import { EXIT } from "../exit.ts";
import { flyText } from "../fly-text.ts";
import type { Io } from "../io.ts";
import { madeBy } from "../made-by.ts";
import { addOutputOptions, emit, type OutputOptions, save } from "../output.ts";
import { addPlotOptions, type PlotOptions, plotIfAsked, stepAxisOption } from "../plot.ts";
import { chooseDrill, choosePoint, chooseSet } from "../scenario-file.ts";
import { addFile, addPoint, addSet, type PointOptions, type SetOptions } from "../scenario-options.ts";
import type { Session } from "../session.ts";
import { openWithSets } from "../starting-sets.ts";
import { paint } from "../text.ts";
import { traceCsv } from "../trace-csv.ts";
import { numberOption } from "../values.ts";
import { examples } from "../verb-help.ts";
import { openedWith, parseWith, type WithValue } from "../with-values.ts";
import { type WrongOptions, wrongChoice, wrongJson } from "../wrong-choice.ts";

type Options = SetOptions &
	PointOptions &
	OutputOptions &
	PlotOptions &
	WrongOptions & {
		readonly drill?: string;
		readonly seed?: number;
		readonly out?: string;
		readonly axis?: AxisName;
		readonly besideAir?: boolean;
		readonly with?: readonly WithValue[];
	};

export function flyVerb(session: Session): Command {
	const command = new Command("fly")
		.description(
			"Fly one drill in the full simulator: how it ended, how well it followed, what the motors did.",
		)
		.option("--drill <name>", "which drill (default: the first in the file)")
		.option(
			"--seed <n>",
			"for noise and turbulence, instead of the drill's own",
			numberOption("--seed", "a whole number from 0 to 4294967295", isSeed),
		)
		.option("--out <file.csv>", "write the trace, every signal over time, as CSV")
		.option("--wrong <kind>", "build it wrong, such as motors-swapped; 'check --wrong-builds' lists them all")
		.option(
			"--motors <numbers>",
			"which motors --wrong concerns (default: those with which it falls fastest)",
		)
		.option("--beside-air", "a drill on a rig: fly it in the air too, side by side, and say what differs")
		.option(
			"--with <path=value>",
			"set something of the craft or of a gain set for this flight only, as the file would have it; may be given again",
			(text: string, before: readonly WithValue[] = []) => [...before, parseWith(text)],
		)
		.addOption(stepAxisOption())
		.addHelpText(
			"after",
			examples(
				["levelhead fly my-craft.json", "the first drill with the first gain set"],
				["levelhead fly my-craft.json --drill 'side gust' --set B", "another drill, another set"],
				["levelhead fly my-craft.json --drill 'roll pivot' --beside-air", "what a rig hides"],
				["levelhead fly my-craft.json --wrong motors-swapped --motors 1,2", "two motors swapped"],
				["levelhead fly my-craft.json --with 'craft.mass=2.1 kg'", "the same craft, but heavier"],
				["levelhead fly my-craft.json --out trace.csv --plot step.svg", "keep the trace and draw it"],
				["levelhead fly my-craft.json --plot all.svg --plot-kind traces", "every axis and the motors"],
			),
		)
		.action((file: string, options: Options) => {
			session.exit = fly(session.io, file, options);
		});
	addPlotOptions(addOutputOptions(addPoint(addSet(addFile(command)))), ["step", "traces", "strip"]);
	return command;
}

const isSeed = (n: number): boolean => Number.isInteger(n) && n >= 0 && n <= 0xffffffff;

function fly(io: Io, file: string, options: Options): number {
	const changes = options.with ?? [];
	const opened = openedWith(openWithSets(io, file, ["even"]), changes);
	const { scenario } = opened;
	const set = chooseSet(scenario, options.set);
	const { name: pointName, point } = choosePoint(scenario, options.point);
	const drill = chooseDrill(scenario, options.drill);
	const seed = options.seed ?? drill.seed;
	if (options.besideAir && !drill.rig)
		throw new BadInput(
			`--beside-air: drill '${drill.name}' has no rig`,
			`Drills with one: ${scenario.drills.flatMap((each) => (each.rig ? [each.name] : [])).join(", ") || "none in this file"}.`,
		);
	const wrong = wrongChoice(options, scenario.craft, point, set);
	const flight = flyDrill({
		craft: scenario.craft,
		point,
		gainSet: set,
		drill,
		options: { seed },
		...(wrong && { wiring: wrong.kind.wiring(set, scenario.craft, wrong.rotors) }),
	});
	const made = madeBy({
		scenario: { ...opened, name: scenario.name },
		gainSet: set.name,
		operatingPoint: pointName,
		seed: flight.seed,
	});
	const result: FlyJson = {
		...flightJson(flight, scenario.craft, point, drill, set),
		rigs: rigsJson(scenario.craft, point, set, drill, options.besideAir === true, seed),
		wrong: wrongJson(wrong, scenario.craft, point, drill, flight),
		with: changes.map(({ path, value }) => ({ path, value })),
		madeBy: made,
	};
	emit(io, options, {
		json: () => result,
		csv: () => flyCsv(result),
		text: () => flyText(result, paint(io.colour), io.width),
	});
	if (options.out !== undefined) save(io, options.out, traceCsv(flight.trace), "trace");
	const drawn = [{ ...namedSet(set, scenario.gainSets), flight }];
	const head = (title: string) => ({
		title,
		note: `${opened.file}, operating point ${pointName}, seed ${flight.seed}${changes.map(({ path, value }) => `, ${path}=${value}`).join("")}, levelhead ${made.version}`,
		invented: scenario.craft.invented,
	});
	plotIfAsked(io, options, {
		step: () =>
			pictureSvg(
				stepPicture(head(`Drill '${drill.name}'`), options.axis ?? busiestAxis(result, drill), drawn),
			),
		traces: () => pictureSvg(tracesPicture(head(`Drill '${drill.name}'`), drawn, scenario.craft)),
		strip: () => pictureSvg(stripPicture(head(`Drill '${drill.name}'`), drawn)),
	});
	return result.fails.length === 0 ? EXIT.fine : EXIT.fails;
}

/** One row per axis; yaw's errors are in deg/s. */
function flyCsv(result: FlyJson): { header: string[]; rows: CsvCell[][] } {
	const header = [
		"status",
		"axis",
		"errorUnit",
		"overshootPct",
		"riseTimeMs",
		"peakTimeMs",
		"settlingTimeMs",
		"settlingTime5PctMs",
		"recoveryTimeMs",
		"steadyStateError",
		"iae",
		"peakDeviation",
	];
	const rows = AXES.map((axis): CsvCell[] => {
		const m = result.metrics[axis];
		const { unit, atEnd, iae, peak } = errorsOf(m);
		return [
			result.status,
			axis,
			unit,
			m.overshootPct,
			m.riseTimeMs,
			m.peakTimeMs,
			m.settlingTimeMs,
			m.settlingTime5PctMs,
			m.recoveryTimeMs,
			atEnd,
			iae,
			peak,
		];
	});
	return { header, rows };
}
