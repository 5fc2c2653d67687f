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
			numberOption("--delay", "seconds, 0 or more", (x) => x >= 0),
		)
		.option(
			"--sample-time <seconds>",
			"sampled loop: its period",
			numberOption("--sample-time", "seconds, above 0", (x) => x > 0),
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

/** Misuse is refused by the analysis with the argument's name. */
function analyse(asked: TransferLoop) {
	try {
		return analyseLoopFromTransferFunction(asked);
	} catch (error) {
		if (error instanceof RangeError)
			throw new BadInput(error.message.replace(/^loop: /, ""), "See 'levelhead loop --help'.");
		throw error;
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
