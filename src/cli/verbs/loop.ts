import { Command, Option } from "commander";
import {
	analyseLoopFromTransferFunction,
	describeTransferLoop,
	type TransferLoop,
} from "../../analysis/scalar-loop-transfer.ts";
import { pictureSvg } from "../../pictures/svg.ts";
import type { LoopJson } from "../../report/json/loop.ts";
import { bodePicture, type DrawnLoop, nyquistPicture, sampleLoop } from "../../report/loop-pictures.ts";
import type { CsvCell } from "../csv.ts";
import { BadInput } from "../errors.ts";
import { EXIT } from "../exit.ts";
import type { Io } from "../io.ts";
import { loopJson } from "../loop-json.ts";
import { loopText } from "../loop-text.ts";
import { addOutputOptions, emit, type OutputOptions } from "../output.ts";
import { addPlotOptions, type PlotOptions, plotIfAsked } from "../plot.ts";
import type { Session } from "../session.ts";
import { paint } from "../text.ts";
import { listOption, numberOption } from "../values.ts";
import { examples } from "../verb-help.ts";

type Options = OutputOptions &
	PlotOptions & {
		readonly num?: readonly number[];
		readonly den?: readonly number[];
		readonly delay?: number;
		readonly sampleTime?: number;
		readonly hold?: "zoh";
		readonly discrete?: boolean;
	};

interface Sizes {
	readonly least: number;
	readonly most: number;
	readonly words: string;
}

/** Far beyond any loop that someone built; what lies further out overflows on the way. */
const SECONDS: Sizes = { least: 1e-9, most: 1e6, words: "from 1e-9 to 1e6" };
const COEFFICIENTS: Sizes = { least: 1e-30, most: 1e30, words: "from 1e-30 to 1e30 in size" };

/** Each period of delay is one state of the sampled loop. */
const MOST_PERIODS = 1000;

const isIn = ({ least, most }: Sizes, value: number): boolean => value >= least && value <= most;

export function loopVerb(session: Session): Command {
	const command = new Command("loop")
		.description(
			"Margins of any loop given as a transfer function: check this program against your textbook.",
		)
		.option("--num <list>", "numerator, highest power first, such as 3 or 1,0.5", listOption("--num"))
		.option("--den <list>", "denominator, highest power first, such as 1,3,3,1", listOption("--den"))
		.option(
			"--delay <seconds>",
			"dead time in the loop",
			numberOption("--delay", `seconds, 0 or ${SECONDS.words}`, (x) => x === 0 || isIn(SECONDS, x)),
		)
		.option(
			"--sample-time <seconds>",
			"sampled loop: its period",
			numberOption("--sample-time", `seconds, ${SECONDS.words}`, (x) => isIn(SECONDS, x)),
		)
		.addOption(
			new Option("--hold <kind>", "the function of s stands behind this hold and is sampled").choices([
				"zoh",
			]),
		)
		.addOption(new Option("--discrete", "the function is one of z already").conflicts("hold"))
		.addHelpText(
			"after",
			examples(
				["levelhead loop --num 3 --den 1,3,3,1", "3/(s+1)^3: gain margin 8/3, phase margin 41.69 deg"],
				["levelhead loop --num 0.5 --den 1,0 --delay 1", "an integrator with dead time"],
				["levelhead loop --num 2 --den 1,3,2,0 --sample-time 0.01 --hold zoh", "held and sampled"],
				["levelhead loop --num 1 --den 1,-1 --sample-time 0.01 --discrete", "given in z"],
			),
		)
		.action((options: Options) => {
			session.exit = loop(session.io, options);
		});
	return addPlotOptions(addOutputOptions(command), ["bode", "nyquist"]);
}

function loop(io: Io, options: Options): number {
	const { num, den } = options;
	if (num === undefined || den === undefined)
		throw new BadInput(
			`no ${num === undefined ? "--num" : "--den"}: expected both`,
			"Such as --num 3 --den 1,3,3,1",
		);
	checkFraction(num, den);
	const periods = (options.delay ?? 0) / (options.sampleTime ?? Number.POSITIVE_INFINITY);
	if (periods > MOST_PERIODS)
		throw new BadInput(
			`--delay ${options.delay}: ${Number(periods.toPrecision(4))} times --sample-time ${options.sampleTime}, expected at most ${MOST_PERIODS} times`,
		);
	const asked: TransferLoop = {
		num,
		den,
		...(options.delay === undefined ? {} : { delaySec: options.delay }),
		...(options.sampleTime === undefined ? {} : { sampleTimeSec: options.sampleTime }),
		...(options.hold === undefined ? {} : { hold: options.hold }),
		...(options.discrete ? { discrete: true } : {}),
	};
	const result = analyse(asked);
	const json = loopJson(asked, result);
	emit(io, options, {
		json: () => json,
		csv: () => loopCsv(json),
		text: () => loopText(json, result, paint(io.colour), io.width),
	});
	const described = describeTransferLoop(asked);
	const drawn: DrawnLoop = {
		letter: "A",
		name: "L",
		result,
		samples: sampleLoop(
			described.respond,
			drawnRange(result, described.lowestRadPerSec, described.highestRadPerSec),
		),
	};
	const head = { title: "Open loop", invented: false, note: `levelhead ${json.madeBy.version}` };
	plotIfAsked(io, options, {
		bode: () => pictureSvg(bodePicture(head, [drawn])),
		nyquist: () => pictureSvg(nyquistPicture(head, [drawn], null)),
	});
	return json.stable ? EXIT.fine : EXIT.fails;
}

function checkFraction(num: readonly number[], den: readonly number[]): void {
	for (const [option, list] of [
		["--num", num],
		["--den", den],
	] as const)
		for (const x of list)
			if (x !== 0 && !isIn(COEFFICIENTS, Math.abs(x)))
				throw new BadInput(`${option} ${list}: coefficient ${x}, expected 0 or ${COEFFICIENTS.words}`);
	const [above, below] = [degree(num), degree(den)];
	if (below < 0) throw new BadInput(`--den ${den}: expected a coefficient other than 0`);
	if (above > below)
		throw new BadInput(
			`--num ${num}: degree ${above}, expected at most ${below}, that of --den ${den}`,
			"What answers faster than at once cannot be built.",
		);
}

/** Of a polynomial from the highest power down; below 0 for none. */
function degree(list: readonly number[]): number {
	const first = list.findIndex((x) => x !== 0);
	return first < 0 ? -1 : list.length - 1 - first;
}

/** The options that make the loop, as given. */
function givenText({ num, den, delaySec, sampleTimeSec }: TransferLoop): string {
	const rest = [
		delaySec === undefined ? "" : ` --delay ${delaySec}`,
		sampleTimeSec === undefined ? "" : ` --sample-time ${sampleTimeSec}`,
	];
	return `--num ${num} --den ${den}${rest.join("")}`;
}

/** What only the analysis can judge is said by option, too. */
function analyse(asked: TransferLoop) {
	try {
		return analyseLoopFromTransferFunction(asked);
	} catch (error) {
		if (!(error instanceof RangeError)) throw error;
		const known = /^(?:loop: (.*)|transferFunction: (delay .*))$/s.exec(error.message);
		const [, ofLoop, ofDelay] = known ?? [];
		throw new BadInput(
			ofLoop ??
				(ofDelay && `--${ofDelay}`) ??
				`${givenText(asked)}: numbers too far apart for the loop to be followed: ${error.message.replace(/^\w+: /, "")}`,
			"See 'levelhead loop --help'.",
		);
	}
}

/** Two decades either side of what happens, within what was scanned. */
function drawnRange(
	result: { readonly crossings: readonly { radPerSec: number }[] },
	low: number,
	high: number,
): [number, number] {
	const at = result.crossings.map((each) => each.radPerSec).filter((w) => w > 0 && Number.isFinite(w));
	if (at.length === 0) return [low, high];
	return [Math.max(low, Math.min(...at) / 100), Math.min(high, Math.max(...at) * 30)];
}

function loopCsv(json: LoopJson): { header: string[]; rows: CsvCell[][] } {
	return {
		header: ["kind", "radPerSec", "marginDeg", "marginDb", "delayMs"],
		rows: json.crossovers.map((each) =>
			each.kind === "gain"
				? [each.kind, each.radPerSec, each.marginDeg, null, each.delayMs]
				: [each.kind, each.radPerSec, null, each.marginDb, null],
		),
	};
}
