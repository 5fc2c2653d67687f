import { AXES, type AxisName } from "../control/spec.ts";
import { digits, fixed } from "../report/format.ts";
import type { LoopFields } from "../report/json/loop-fields.ts";
import type { MarginsJson } from "../report/json/margins.ts";
import { OPENINGS } from "../report/margin-limits.ts";
import { madeByLine } from "./made-by.ts";
import { type Paint, paragraph, right, table } from "./text.ts";

/** What `margins` says: the verdict, the margins of every opening, the exact answer, where the phase goes, what wrong feels like. */
export function marginsText(result: MarginsJson, paint: Paint, width: number): string {
	return [
		verdict(result, paint, width),
		openings(result, paint, width),
		periodic(result, paint, width),
		together(result, paint, width),
		...ledgers(result, paint, width),
		felt(result, paint, width),
		notes(result, paint, width),
		paint.dim(paragraph(madeByLine(result.madeBy), width)),
	]
		.filter((part) => part !== "")
		.join("\n");
}

function verdict({ limits, slowMode }: MarginsJson, paint: Paint, width: number): string {
	const lines = limits.met
		? [
				paint.green(paint.bold("fine")) +
					`  Stable, and every opening keeps ${limits.gainMarginDb} dB and ${limits.phaseMarginDeg} deg or more.`,
			]
		: limits.broken.map((each) => `${paint.red(paint.bold("stop"))}  ${each}.`);
	if (slowMode) lines.push(`${paint.yellow(paint.bold("care"))}  ${slowMode.sentence}`);
	return lines.map((line) => paragraph(line, width)).join("");
}

function openings(result: MarginsJson, paint: Paint, width: number): string {
	const rows: string[][] = [];
	for (const axis of AXES)
		OPENINGS.forEach(([key, name], i) => {
			const loop = result.axes[axis][key];
			if (loop) rows.push([i === 0 ? axis : "", name, ...loopCells(loop, paint)]);
		});
	const columns = [
		{ title: "axis" },
		{ title: "opened" },
		{ title: "" },
		right("gain up dB"),
		right("down dB"),
		right("phase deg"),
		right("delay ms"),
		right("crossover Hz"),
		right("Ms"),
		right("Mt"),
	];
	return (
		`${paint.bold("Margins")}: how far each loop is from shaking by itself\n` +
		table(columns, rows, { width, paint }) +
		paragraph(
			"Gain up and down: how far the gain may rise or fall. Phase and delay: what may still be lost to slow parts. " +
				"Crossover: how fast the loop acts. Ms, Mt: how much it amplifies at worst (below 2 is calm). '-': no limit that way.",
			width,
			2,
		)
	);
}

function loopCells(loop: LoopFields, paint: Paint): string[] {
	return [
		loop.stable ? "stable" : paint.red("unstable"),
		fixed(loop.gainMarginUpDb, 1),
		fixed(loop.gainMarginDownDb, 1),
		fixed(loop.phaseMarginDeg, 1),
		fixed(loop.delayMarginMs, 2),
		fixed(loop.crossoverHz, 2),
		fixed(loop.ms, 2),
		fixed(loop.mt, 2),
	];
}

function periodic({ periodic: p }: MarginsJson, paint: Paint, width: number): string {
	const rows: string[][] = [];
	const signed = (value: number | null, decimals: number): string =>
		value === null ? "" : `(${value < 0 ? "" : "+"}${fixed(value, decimals)})`;
	for (const axis of AXES)
		OPENINGS.forEach(([key, name], i) => {
			const loop = p.axes[axis][key];
			if (!loop) return;
			const { difference: d } = loop;
			rows.push([
				i === 0 ? axis : "",
				name,
				fixed(loop.gainMarginUpDb, 2),
				signed(d.gainMarginUpDb, 3),
				fixed(loop.gainMarginDownDb, 2),
				signed(d.gainMarginDownDb, 3),
				fixed(loop.delayMarginMs, 2),
				signed(d.delayMarginMs, 3),
			]);
		});
	const columns = [
		{ title: "axis" },
		{ title: "opened" },
		right("gain up dB"),
		right("differs"),
		right("down dB"),
		right("differs"),
		right("delay ms"),
		right("differs"),
	];
	const clocks = p.equalClocks
		? "All clocks inside the loop are equal, so both answers are exact and must agree."
		: "The clocks differ, so the table above is an approximation and this one decides.";
	return (
		paragraph(
			`${paint.bold("The same, exact")}: the loop followed over one hyperperiod of ${digits(p.hyperperiodMs, 4)} ms, and by how much that differs from the table above`,
			width,
		) +
		table(columns, rows, { width, paint }) +
		paragraph(
			`${clocks} Largest |eigenvalue| ${p.spectralRadius.toFixed(6)}: ${p.stable ? "below 1, disturbances die out" : "not below 1, disturbances grow"}. ${p.rationalised}`.trim(),
			width,
			2,
		)
	);
}

function together({ diskMargin: d }: MarginsJson, paint: Paint, width: number): string {
	if (d.alpha === null) return "";
	return paragraph(
		`${paint.bold("All three axes at once")}: gains may be off by ${fixed(d.gainDb, 1)} dB either way, or phases by ${fixed(d.phaseDeg, 1)} deg, in any mixture (disk margin alpha ${fixed(d.alpha, 3)}, tightest at ${fixed((d.radPerSec ?? 0) / (2 * Math.PI), 2)} Hz).`,
		width,
	);
}

/** Roll and pitch share a chain: the ledger is printed once where they agree to a tenth of a degree. */
function ledgers(result: MarginsJson, paint: Paint, width: number): string[] {
	const print = (title: string, axis: AxisName): string => {
		const { phaseLedger } = result.axes[axis];
		if (phaseLedger.length === 0) return "";
		const rows = phaseLedger.map((each) => [
			each.element,
			fixed(each.delayMs, 2),
			fixed(each.degrees, 1),
			bar(each.degrees, paint),
		]);
		const sum = phaseLedger.reduce((total, each) => total + each.degrees, 0);
		rows.push([paint.bold("together"), "", paint.bold(fixed(sum, 1)), ""]);
		const crossover =
			result.axes[axis].rateLoop.crossoverHz ?? result.axes[axis].wholeAxis?.crossoverHz ?? null;
		return `${paragraph(`${paint.bold(`Phase ledger of ${title}`)}: degrees that each part costs at ${fixed(crossover, 2)} Hz; -180 would be the edge`, width)}${table(
			[{ title: "part" }, right("delay ms"), right("deg"), { title: "" }],
			rows,
			{ width, paint },
		)}`;
	};
	const { roll, pitch } = result.axes;
	const same =
		roll.phaseLedger.length === pitch.phaseLedger.length &&
		roll.phaseLedger.every((each, i) => Math.abs(each.degrees - pitch.phaseLedger[i]!.degrees) < 0.1);
	return same
		? [print("roll and pitch", "roll"), print("yaw", "yaw")]
		: [print("roll", "roll"), print("pitch", "pitch"), print("yaw", "yaw")];
}

function bar(degrees: number, paint: Paint): string {
	const length = Math.min(40, Math.round(Math.abs(degrees) / 3));
	return length === 0 ? "" : paint.dim((degrees < 0 ? "#" : "+").repeat(length));
}

function felt(result: MarginsJson, paint: Paint, width: number): string {
	const rows = AXES.map((axis) => [axis, result.axes[axis].feltHz.sentence]);
	return `${paint.bold("What wrong gains feel like")}\n${table([{ title: "" }, { title: "", wrap: true }], rows, { width, paint })}`;
}

function notes(result: MarginsJson, paint: Paint, width: number): string {
	if (result.notes.length === 0) return "";
	return `${paint.bold("Notes")}\n${result.notes.map((each) => paragraph(`- ${each}`, width, 2)).join("")}`;
}
