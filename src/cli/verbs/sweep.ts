import { Command, Option } from "commander";
import type { SweepJob } from "../../../workers/jobs.ts";
import { nodePool } from "../../../workers/node-pool.ts";
import { runSweep, type SweepRun } from "../../../workers/run-sweep.ts";
import { AXES, type AxisName } from "../../control/spec.ts";
import type { SweepJson } from "../../report/json/sweep.ts";
import { loadDocument, withValue } from "../../scenario/load.ts";
import { parsePath } from "../../scenario/path.ts";
import { cellCount, SWEEP_COLUMNS, type Sweep, type SweepCell } from "../../tuning/sweep.ts";
import { BadInput } from "../errors.ts";
import { EXIT } from "../exit.ts";
import type { Io } from "../io.ts";
import { madeBy } from "../made-by.ts";
import { addOutputOptions, emit, type OutputOptions } from "../output.ts";
import { addPlotOptions, type PlotOptions, plotIfAsked } from "../plot.ts";
import { progressBar } from "../progress.ts";
import { chooseDrill, choosePoint, chooseSet, type OpenScenario } from "../scenario-file.ts";
import { addFile, addPoint, addSet, type PointOptions, type SetOptions } from "../scenario-options.ts";
import type { Session } from "../session.ts";
import { openWithSets } from "../starting-sets.ts";
import { meant } from "../suggest.ts";
import { type Over, parseOver } from "../sweep-over.ts";
import { sweepPicture } from "../sweep-picture.ts";
import { resultNames, sweepText } from "../sweep-text.ts";
import { paint } from "../text.ts";
import { numberOption } from "../values.ts";
import { examples } from "../verb-help.ts";

type Options = SetOptions &
	PointOptions &
	OutputOptions &
	PlotOptions & {
		readonly over?: readonly Over[];
		readonly result?: string;
		readonly axis: AxisName;
		readonly drill?: string;
		readonly workers?: number;
	};

export function sweepVerb(session: Session): Command {
	const command = new Command("sweep")
		.description("One result over one or two numbers of the craft or of a gain set, on all processors.")
		.option(
			"--over <path=values>",
			"what to vary: PATH=FROM..TO:COUNT or PATH=A,B,C, with a unit at the end where the numbers are not SI; once or twice",
			(text: string, before: readonly Over[] = []) => [...before, parseOver(text)],
		)
		.option("--result <name>", "which number is wanted (default: stabilityRadius, with --drill iaeDegSec)")
		.addOption(new Option("--axis <axis>", "whose").choices(AXES).default("roll"))
		.option("--drill <name>", "fly this drill in every cell instead of asking the linear analysis")
		.option(
			"--workers <n>",
			"threads (default: one per processor, one alone for little work); the answer does not depend on it",
			numberOption(
				"--workers",
				"a whole number from 1 to 256",
				(n) => Number.isInteger(n) && n >= 1 && n <= 256,
			),
		)
		.addHelpText(
			"after",
			`\nNames of results:\n${resultNames(SWEEP_COLUMNS.margins)}With --drill:\n${resultNames(SWEEP_COLUMNS.flown)}\nCtrl-C prints what is finished and exits with 130.\n${examples(
				[
					"levelhead sweep my-craft.json --over 'craft.mass=1.5..2.5:11'",
					"what a heavier craft does to the margins",
				],
				[
					"levelhead sweep my-craft.json --over gainSets.A.roll.kp=0.05..0.3:20 --over gainSets.A.roll.ki=0..1:20",
					"the gain plane",
				],
				[
					"levelhead sweep my-craft.json --point reaching --over 'operatingPoints.reaching.limb.0=0..150 deg:7' --over 'operatingPoints.reaching.load.mass=0..400 g:5'",
					"over pose and load",
				],
				["levelhead sweep my-craft.json --over craft.mass=1.5..2.5:5 --drill 'side gust'", "flown instead"],
			)}`,
		)
		.action(async (file: string, options: Options) => {
			session.exit = await sweep(session.io, file, options);
		});
	return addPlotOptions(addOutputOptions(addPoint(addSet(addFile(command)))), ["plane"]);
}

async function sweep(io: Io, file: string, options: Options): Promise<number> {
	const over = options.over ?? [];
	if (over.length < 1 || over.length > 2)
		throw new BadInput(
			`${over.length === 0 ? "nothing to sweep" : `${over.length} times --over`}: expected --over once or twice`,
			"Such as --over craft.mass=1.5..2.5:11",
		);
	const opened = openWithSets(io, file, ["even"]);
	const { scenario } = opened;
	const set = chooseSet(scenario, options.set);
	const { name: pointName, point } = choosePoint(scenario, options.point);
	const drill = options.drill === undefined ? null : chooseDrill(scenario, options.drill);
	const columns: readonly string[] = SWEEP_COLUMNS[drill ? "flown" : "margins"];
	const wanted = options.result ?? (drill ? "iaeDegSec" : "stabilityRadius");
	if (!columns.includes(wanted))
		throw new BadInput(
			`--result '${wanted}': no such result ${drill ? "of a flight" : "of the margins"}`,
			meant(wanted, columns),
		);
	checkPaths(opened, over, set.name, pointName);
	checkTwoNumbers(scenario.document, over);
	const job: Sweep = {
		axes: over.map(({ path, values }) => ({ path, values })),
		measure: drill
			? { kind: "flown", axis: options.axis, drill, point }
			: { kind: "margins", axis: options.axis, points: [point] },
	};
	const names = {
		setName: set.name,
		...(over.some(({ path }) => firstKey(path) === "operatingPoints") && { pointName }),
		...(drill && { drillName: drill.name }),
	};
	const run = await runOnPool(io, opened, names, over, job, options.workers);
	const made = madeBy({
		scenario: { ...opened, name: scenario.name },
		gainSet: set.name,
		operatingPoint: pointName,
		seed: drill?.seed ?? null,
	});
	const json: SweepJson = {
		complete: run.complete,
		measure: job.measure.kind,
		axis: options.axis,
		drill: drill?.name ?? null,
		over: over.map(({ path, unit, values }) => ({ path, unit, values: [...values] })),
		columns: [...columns],
		result: wanted,
		cells: run.cells.flatMap((cell) => (cell ? [cellJson(cell, columns)] : [])),
		why: drill ? {} : { drill: "the linear analysis was asked, nothing was flown" },
		madeBy: made,
	};
	emit(io, options, {
		json: () => json,
		csv: () => ({
			header: [
				...over.map((each) => (each.unit ? `${each.path} [${each.unit}]` : each.path)),
				...columns,
				"why",
			],
			rows: json.cells.map((cell) => [...cell.values, ...cell.numbers, cell.why]),
		}),
		text: () => sweepText(json, run.cells.length, paint(io.colour), io.width),
	});
	// The text says so itself; rows that lack others look like all of them.
	if (!run.complete && (options.csv || options.json))
		io.err(`stopped: ${json.cells.length} of ${run.cells.length} cells are here\n`);
	plotIfAsked(io, options, { plane: () => sweepPicture(json, scenario.craft.invented) });
	return run.complete ? EXIT.fine : EXIT.interrupted;
}

/** A null among a cell's numbers has its reason. */
function cellJson(cell: SweepCell, columns: readonly string[]): SweepJson["cells"][number] {
	const stable = columns[0] !== "stable" || cell.numbers[0] === 1;
	const missing = cell.numbers.includes(null);
	const why = cell.why || (missing ? (stable ? "no such crossing: nothing to limit" : "unstable") : "");
	return { index: cell.index, values: [...cell.values], numbers: [...cell.numbers], why };
}

/** A path that the file's definition does not know is bad input, found before any thread is started. */
function checkPaths(opened: OpenScenario, over: readonly Over[], setName: string, pointName: string): void {
	for (const each of over) {
		const first = each.values[0]!;
		const section = firstKey(each.path);
		if (section === "operatingPoints" && !isOfPoint(opened, each.path, pointName))
			throw new BadInput(
				`--over ${each.path}: expected a number of operating point '${pointName}'`,
				"Choose the point that is varied with --point",
			);
		if (section === "drills" || section === "tuning")
			throw new BadInput(
				`--over ${each.path}: expected a number of the craft, of a gain set or of the operating point`,
				section === "tuning" ? "" : "A sweep holds what --drill names",
			);
		let changed: unknown;
		try {
			changed = withValue(opened.scenario.document, each.path, each.unit ? `${first} ${each.unit}` : first);
		} catch (error) {
			throw new BadInput(`--over ${each.path}: ${(error as Error).message}`);
		}
		const loaded = loadDocument(changed);
		if (!loaded.ok && loaded.errors.every((e) => !isAbout(e.path, each.path)))
			throw overError(each.path, loaded.errors[0]?.message);
		if (!loaded.ok) {
			const other = loadDocument(
				withValue(
					opened.scenario.document,
					each.path,
					each.unit ? `${each.values.at(-1)} ${each.unit}` : each.values.at(-1),
				),
			);
			if (!other.ok) throw overError(each.path, loaded.errors[0]?.message);
		} else if (!loaded.scenario.gainSets.some((s) => s.name === setName))
			throw new BadInput(`--over ${each.path}: it removes gain set '${setName}'`);
	}
}

/** Both may name one number, in two ways, too: `gainSets.A.roll.kp` and `gainSets[0].roll.kp`. */
function checkTwoNumbers(document: unknown, [first, second]: readonly Over[]): void {
	if (first === undefined || second === undefined) return;
	const last = (before: unknown): string => JSON.stringify(withValue(before, second.path, "second"));
	if (last(withValue(document, first.path, "first")) === last(document))
		throw new BadInput(
			`--over ${second.path}: the other --over varies this number already, expected two different ones`,
		);
}

/** `operatingPoints.NAME.…` or `operatingPoints.INDEX.…` of the point that is used. */
function isOfPoint({ scenario }: OpenScenario, path: string, pointName: string): boolean {
	const [, entry] = parsePath(path);
	const index = scenario.operatingPoints.findIndex(({ name }) => name === pointName);
	return String(entry) === pointName || Number(entry) === index;
}

/** The path once, also where the message begins with it. */
const overError = (path: string, message = "no such path"): BadInput =>
	new BadInput(`--over ${message.startsWith(`${path}:`) ? message : `${path}: ${message}`}`);

const firstKey = (path: string): string => path.split(/[.[]/)[0]!;

const isAbout = (errorPath: string, path: string): boolean => firstKey(errorPath) === firstKey(path);

/** Margins over gains alone are found sooner than a second thread has started. */
const isLittle = (job: Sweep): boolean =>
	job.measure.kind === "margins" &&
	job.axes.every(({ path }) => path.startsWith("gainSets")) &&
	cellCount(job) <= 5000;

async function runOnPool(
	io: Io,
	opened: OpenScenario,
	names: Pick<SweepJob, "setName" | "pointName" | "drillName">,
	over: readonly Over[],
	job: Sweep,
	workers: number | undefined,
): Promise<SweepRun> {
	const total = cellCount(job);
	const bar = progressBar(io, "sweep", total);
	const stop = new AbortController();
	const release = io.onInterrupt(() => stop.abort());
	const pool = nodePool(workers ?? (isLittle(job) ? 1 : undefined));
	try {
		return await runSweep(
			pool,
			{ text: opened.text, ...names, units: over.map((each) => each.unit), sweep: job },
			{ signal: stop.signal, onProgress: (done) => bar.update(done) },
		);
	} finally {
		bar.end();
		release();
		await pool.close();
	}
}
