import { Command, Option } from "commander";
import { craftReport } from "../../analysis/craft-report.ts";
import { AXES, type AxisName, type GainSet } from "../../control/spec.ts";
import type { Craft } from "../../craft/model.ts";
import { namedSet } from "../../pictures/letters.ts";
import { pictureSvg } from "../../pictures/svg.ts";
import { cornerFanPicture } from "../../report/corner-steps.ts";
import type { TuneJson } from "../../report/json/tune.ts";
import { gainSetDocument, withGainSet } from "../../scenario/gain-set-document.ts";
import { nameText } from "../../scenario/quantity.ts";
import { CHARACTERS, type Character, type Limits, limitsOf } from "../../tuning/characters.ts";
import { type EnvelopeProof, proveEnvelope } from "../../tuning/envelope.ts";
import { flyCorners } from "../../tuning/fly-corners.ts";
import { envelopeCorners } from "../../tuning/reach-corners.ts";
import type { TuneOptions } from "../../tuning/result.ts";
import { type ScheduleResult, tuneSchedule } from "../../tuning/schedule.ts";
import { tune as findGains } from "../../tuning/tune.ts";
import type { CsvCell } from "../csv.ts";
import { BadInput } from "../errors.ts";
import { EXIT } from "../exit.ts";
import type { Io } from "../io.ts";
import { madeBy } from "../made-by.ts";
import { addOutputOptions, emit, type OutputOptions, save } from "../output.ts";
import { addPlotOptions, type PlotOptions, plotIfAsked } from "../plot.ts";
import { type Progress, progressBar } from "../progress.ts";
import { type OpenScenario, openScenario } from "../scenario-file.ts";
import { addFile } from "../scenario-options.ts";
import type { Session } from "../session.ts";
import { paint } from "../text.ts";
import { tuneJson } from "../tune-json.ts";
import { tuneText } from "../tune-text.ts";
import { examples } from "../verb-help.ts";
import { VERSION } from "../version.ts";

type Options = OutputOptions &
	PlotOptions & {
		readonly axis: AxisName;
		readonly character: Character;
		readonly name: string;
		readonly fly: boolean;
		readonly reach?: boolean;
		readonly schedule?: boolean;
		readonly alternatives: boolean;
		readonly save?: boolean;
		readonly saveAs?: string;
	};

export function tuneVerb(session: Session): Command {
	const command = new Command("tune")
		.description(
			"Starting gains that keep their limits in every corner, in your own code's units, and why those.",
		)
		.addOption(new Option("--character <name>", "how boldly").choices(CHARACTERS).default("even"))
		.option("--name <name>", "name of the gain set that comes out", setName, "A")
		.option("--save", "put the gain set into the scenario file, which is written anew")
		.option("--save-as <file.json>", "put it into a copy of the file under this name")
		.addOption(new Option("--axis <axis>", "which axis --plot draws").choices(AXES).default("roll"))
		.option("--no-alternatives", "do not work out what would buy more (quicker)")
		.option(
			"--reach",
			"over every pose and load of the reach arm: one set for all, else gains that follow them; proven at frozen poses and in flight",
		)
		.option("--schedule", "with --reach: gains that follow pose and load even where one set serves")
		.option("--no-fly", "do not fly the answer in every corner")
		.addHelpText(
			"after",
			examples(
				["levelhead tune my-craft.json", "character even"],
				["levelhead tune my-craft.json --character gentle", "calmer, with more margin: for the first hover"],
				["levelhead tune my-craft.json --save", "and put the answer into the file as gain set A"],
				["levelhead tune my-craft.json --plot fan.svg", "and draw a step in every corner"],
				["levelhead tune my-craft.json --reach", "gains that serve every pose and load of the reach arm"],
				["levelhead tune my-craft.json --reach --schedule", "gains that follow pose and load"],
				["levelhead tune my-craft.json --json", "for scripts (docs/json.md)"],
			),
		)
		.action((file: string, options: Options) => {
			session.exit = tune(session.io, file, options);
		});
	return addPlotOptions(addOutputOptions(addFile(command)), ["corners"]);
}

/** What the file could not hold again is refused before anything is worked out. */
function setName(text: string): string {
	const { error } = nameText.safeParse(text);
	if (error) throw new BadInput(`--name '${text}': expected ${error.issues[0]!.message}`);
	return text;
}

function tune(io: Io, file: string, options: Options): number {
	const opened = openScenario(io, file);
	const { scenario } = opened;
	const changed = scenario.tuning[options.character];
	const { craft } = scenario;
	if (options.reach && !craft.limb)
		throw new BadInput(
			`--reach: ${file} has no craft.limb`,
			"Describe the reach arm in craft.limb: docs/scenario.schema.json, scenarios/sandpiper.json",
		);
	if (options.schedule && !options.reach)
		throw new BadInput("--schedule: expected --reach beside it", "levelhead tune FILE --reach --schedule");
	const result = findGains(scenario.craft, {
		character: options.character,
		name: options.name,
		alternatives: options.alternatives,
		...(changed ? { limits: changed } : {}),
		...(options.reach ? { corners: envelopeCorners(craft) } : {}),
	});
	const schedule =
		options.reach && (options.schedule || !result.feasible)
			? scheduled(io, craft, {
					character: options.character,
					name: options.name,
					...(changed ? { limits: changed } : {}),
				})
			: null;
	const chosen: GainSet | null = schedule?.gainSet ?? result.gainSet;
	const { verdict } = craftReport(scenario.craft, scenario.operatingPoints[0]!.point);
	const flown =
		chosen && verdict.fit && options.fly
			? flyCorners(
					craft,
					chosen,
					result.corners.filter(({ point }) => !point.limbRad),
				)
			: [];
	const proof =
		options.reach && chosen && verdict.fit
			? proven(io, craft, chosen, limitsOf(options.character, changed))
			: null;
	const made = madeBy({ scenario: { ...opened, name: scenario.name }, gainSet: options.name });
	const json = tuneJson(
		result,
		scenario.firmware,
		craft,
		{ fit: verdict.fit, sentence: verdict.sentence },
		flown,
		made,
		proof,
		schedule,
	);
	emit(io, options, {
		json: () => json,
		csv: () => tuneCsv(json),
		text: () => tuneText(json, chosen, scenario.firmware, craft, paint(io.colour), io.width),
	});
	if (chosen)
		plotIfAsked(io, options, {
			corners: () =>
				pictureSvg(
					cornerFanPicture(
						{
							title: `Step in every corner, character ${options.character}`,
							note: `${opened.file}, levelhead ${made.version}`,
							invented: scenario.craft.invented,
						},
						scenario.craft,
						chosen,
						namedSet(chosen, [chosen]),
						result.corners,
						options.axis,
					),
				),
		});
	if (options.save || options.saveAs !== undefined) saveSet(io, opened, options, verdict.fit ? chosen : null);
	const holds =
		proof === null ||
		(proof.flights.every(({ status }) => status === "completed") &&
			proof.frozen.every((f) => f.broken.length === 0 && f.why === ""));
	return verdict.fit && chosen && flown.every((each) => each.status === "completed") && holds
		? EXIT.fine
		: EXIT.fails;
}

function scheduled(io: Io, craft: Craft, options: TuneOptions): ScheduleResult {
	const work = tuneSchedule(craft, options);
	let step = work.next();
	let bar: Progress | null = null;
	let stage = "";
	while (!step.done) {
		const { done, of, doing } = step.value;
		if (stage !== `${doing} ${of}`) {
			bar?.end();
			bar = progressBar(io, doing, of);
			stage = `${doing} ${of}`;
		}
		bar?.update(done);
		step = work.next();
	}
	bar?.end();
	return step.value;
}

function proven(io: Io, craft: Craft, set: GainSet, limits: Limits): EnvelopeProof {
	const work = proveEnvelope(craft, set, limits);
	let step = work.next();
	const bar = progressBar(io, "every pose", step.done ? 1 : step.value.of);
	while (!step.done) {
		bar.update(step.value.done);
		step = work.next();
	}
	bar.end();
	return step.value;
}

function saveSet(io: Io, opened: OpenScenario, options: Options, gainSet: GainSet | null): void {
	if (!gainSet) {
		io.err("nothing saved: there is no gain set to fly with\n");
		return;
	}
	const note = `Starting gains, character ${options.character}, by levelhead ${VERSION}.`;
	const document = withGainSet(opened.scenario.document, gainSetDocument(gainSet, note));
	const replaces = opened.scenario.gainSets.some(({ name }) => name === gainSet.name);
	const what = `gain set ${gainSet.name}${replaces ? `, in place of the former set ${gainSet.name},` : ""}`;
	for (const path of [options.save ? opened.file : undefined, options.saveAs])
		if (path !== undefined) save(io, path, `${JSON.stringify(document, null, "\t")}\n`, what);
}

/** One row per axis and gain, both units. */
function tuneCsv(result: TuneJson): { header: string[]; rows: CsvCell[][] } {
	const rows: CsvCell[][] = [];
	for (const axis of AXES)
		for (const gain of ["kAngle", "kp", "ki", "kd"] as const) {
			const typed = result.firmwareGains?.[axis][gain] ?? null;
			const internal = result.gains[axis]?.[gain] ?? null;
			rows.push([axis, gain, internal, typed?.value ?? null, typed?.unit ?? null]);
		}
	return { header: ["axis", "gain", "internal", "firmware", "firmwareUnit"], rows };
}
