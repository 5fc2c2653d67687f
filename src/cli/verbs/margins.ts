import { Command, Option } from "commander";
import { axisLoops } from "../../analysis/axis-loops.ts";
import { axisPlants } from "../../analysis/axis-plants.ts";
import { marginsReport } from "../../analysis/margins-report.ts";
import type { MarginsReport } from "../../analysis/report-types.ts";
import { AXES, type AxisName, type GainSet } from "../../control/spec.ts";
import type { Craft, OperatingPoint } from "../../craft/model.ts";
import { gainsAt } from "../../physics/gains-at.ts";
import { namedSet } from "../../pictures/letters.ts";
import { pictureSvg } from "../../pictures/svg.ts";
import { bodePicture, type DrawnLoop, nyquistPicture, sampleLoop } from "../../report/loop-pictures.ts";
import { limitsOf } from "../../tuning/characters.ts";
import { askedFor } from "../asked-for.ts";
import { BadInput } from "../errors.ts";
import { EXIT } from "../exit.ts";
import type { Io } from "../io.ts";
import { marginsCsv } from "../margins-csv.ts";
import { marginsJson } from "../margins-json.ts";
import { marginsText } from "../margins-text.ts";
import { addOutputOptions, emit, type OutputOptions } from "../output.ts";
import { addPlotOptions, type PlotOptions, plotIfAsked } from "../plot.ts";
import { addFile, addPoint, addSet, type PointOptions, type SetOptions } from "../scenario-options.ts";
import type { Session } from "../session.ts";
import { paint } from "../text.ts";
import { unflyable } from "../unflyable.ts";
import { examples } from "../verb-help.ts";

type Opened = "rate" | "angle" | "whole";

type Options = SetOptions &
	PointOptions &
	OutputOptions &
	PlotOptions & { readonly axis: AxisName; readonly opened: Opened };

export function marginsVerb(session: Session): Command {
	const command = new Command("margins")
		.description(
			"How far a gain set is from shaking by itself: margins of every loop, exact and by frequency.",
		)
		.addOption(new Option("--axis <axis>", "which axis --plot draws").choices(AXES).default("roll"))
		.addOption(
			new Option("--opened <loop>", "which opening --plot draws: rate loop, angle loop or whole axis")
				.choices(["rate", "angle", "whole"])
				.default("rate"),
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
	const { opened, scenario, set, point, pointName, made } = askedFor(io, file, options);
	const found = marginsReport(scenario.craft, set, point);
	if (!found.feasible) return unflyable(io, `at operating point ${pointName}: ${found.reason}`);
	const { craft } = scenario;
	const drawn =
		options.plot === undefined
			? null
			: drawnLoop(craft, set, scenario.gainSets, point, found.report, options);
	const result = marginsJson(found.report, made());
	emit(io, options, {
		json: () => result,
		csv: () => marginsCsv(result),
		text: () => marginsText(result, paint(io.colour), io.width),
	});
	const head = {
		title: `${options.axis}: ${OPENED[options.opened].words}`,
		note: `${opened.file}, operating point ${pointName}, levelhead ${result.madeBy.version}`,
		invented: craft.invented,
	};
	plotIfAsked(io, options, {
		bode: () => pictureSvg(bodePicture(head, drawn ? [drawn] : [])),
		nyquist: () => pictureSvg(nyquistPicture(head, drawn ? [drawn] : [], limitsOf("lively").ms)),
	});
	return result.limits.met ? EXIT.fine : EXIT.fails;
}

const OPENED = {
	rate: { key: "rateLoop", words: "rate loop" },
	angle: { key: "angleLoop", words: "angle loop" },
	whole: { key: "wholeAxis", words: "whole axis" },
} as const;

function drawnLoop(
	craft: Craft,
	set: GainSet,
	all: readonly GainSet[],
	point: OperatingPoint,
	report: MarginsReport,
	{ axis, opened }: Options,
): DrawnLoop {
	const plant = axisPlants(craft, point)[axis];
	const loops = axisLoops(plant, gainsAt(craft, set, point));
	const respond = loops[opened];
	const result = report.axes[axis][OPENED[opened].key];
	if (!respond || !result)
		throw new BadInput(`--opened ${opened}: ${loops.why[opened] ?? `${axis} has no such loop`}`);
	return {
		...namedSet(set, all),
		samples: sampleLoop(respond, [0.3, Math.PI / plant.periodSec]),
		result,
	};
}
