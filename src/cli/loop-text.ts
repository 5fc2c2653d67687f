import type { TransferLoopResult } from "../analysis/scalar-loop-transfer.ts";
import type { Margin } from "../analysis/scalar-loop-types.ts";
import { digits, fixed } from "../report/format.ts";
import type { LoopJson } from "../report/json/loop.ts";
import { madeByLine } from "./made-by.ts";
import { polynomialText } from "./polynomial-text.ts";
import { type Paint, paragraph, table } from "./text.ts";

/** What `loop` says: the loop as read, stable or not, every margin with where it is read, every crossing. */
export function loopText(json: LoopJson, result: TransferLoopResult, paint: Paint, width: number): string {
	return [
		`${paint.bold("Loop")}  L(${json.loop.variable}) = ${formula(json)}\n      closed by negative feedback: 1/(1 + L)\n`,
		json.stable
			? `${paint.green(paint.bold("stable"))}\n`
			: paragraph(`${paint.red(paint.bold("unstable"))}: ${json.why["stable"]}.`, width),
		margins(result, paint, width),
		disk(json, width),
		crossings(json, paint, width),
		paint.dim(`${madeByLine(json.madeBy)}\n`),
	]
		.filter((part) => part !== "")
		.join("\n");
}

function formula({ loop }: LoopJson): string {
	const fraction = (text: string): string => (/ [+-] /.test(text) ? `(${text})` : text);
	const num = polynomialText(loop.num, loop.variable);
	const den = polynomialText(loop.den, loop.variable);
	const ratio = den === "1" ? num : `${fraction(num)} / ${fraction(den)}`;
	const delay = loop.delaySec > 0 ? `, delayed by ${loop.delaySec} s` : "";
	const clock =
		loop.sampleTimeSec === null
			? ""
			: `, ${loop.hold ? "behind a zero-order hold, " : ""}sampled every ${loop.sampleTimeSec} s`;
	return `${ratio}${delay}${clock}`;
}

function margins(result: TransferLoopResult, paint: Paint, width: number): string {
	const row = (name: string, margin: Margin, factor: number, unit: string, meaning: string): string[] =>
		margin.value === null
			? [name, "-", "", "", margin.why]
			: [name, digits(margin.value * factor, 6), unit, at(margin.radPerSec), meaning];
	const up = result.gainMarginUpDb.value;
	const down = result.gainMarginDownDb.value;
	const rows = [
		row(
			"gain margin up",
			result.gainMarginUpDb,
			1,
			"dB",
			up === null ? "" : `gain may rise ${digits(10 ** (up / 20), 5)} times`,
		),
		row(
			"gain margin down",
			result.gainMarginDownDb,
			1,
			"dB",
			down === null ? "" : `gain may fall to ${digits(10 ** (-down / 20), 5)} of it`,
		),
		row("phase margin", result.phaseMarginDeg, 1, "deg", "phase that may still be lost"),
		row("delay margin", result.delayMarginSec, 1000, "ms", "delay that may still be added"),
		row("crossover", result.crossoverRadPerSec, 1 / (2 * Math.PI), "Hz", "highest frequency where |L| = 1"),
		row("bandwidth", result.bandwidthRadPerSec, 1 / (2 * Math.PI), "Hz", "closed loop down by 3 dB"),
		row("Ms", result.ms, 1, "", "peak of |1/(1+L)|: how much disturbances grow at worst"),
		row("Mt", result.mt, 1, "", "peak of |L/(1+L)|: how much set-points and noise grow at worst"),
	];
	const columns = [
		{ title: "" },
		{ title: "", align: "right" },
		{ title: "" },
		{ title: "at rad/s", align: "right" },
		{ title: "", wrap: true },
	] as const;
	const defined = result.stable ? rows : rows.filter(([, value]) => value !== "-");
	return defined.length > 0 ? table(columns, defined, { width, paint }) : "";
}

function at(radPerSec: number): string {
	return Number.isFinite(radPerSec) ? digits(radPerSec, 6) : "infinity";
}

function disk({ diskMargin: d }: LoopJson, width: number): string {
	if (!d) return "";
	const high = d.gainFactorHigh === null ? "any" : digits(d.gainFactorHigh, 5);
	return paragraph(
		`Disk margin: gain and phase may change at once by anything in a disk of size ${digits(d.alpha, 6)}: gain from ${digits(d.gainFactorLow, 5)} to ${high} times, or phase by ${fixed(d.phaseDeg, 3)} deg.`,
		width,
		2,
	);
}

function crossings({ crossovers }: LoopJson, paint: Paint, width: number): string {
	if (crossovers.length === 0) return "  No crossing: |L| never meets 1 and L is never real and negative.\n";
	const rows = crossovers.map((each) => [
		each.kind === "gain" ? "|L| = 1" : "phase -180",
		each.radPerSec === null ? "infinity" : digits(each.radPerSec, 6),
		each.kind === "gain" ? digits(each.marginDeg, 6) : digits(each.marginDb, 6),
		each.kind === "gain" ? "deg" : "dB",
	]);
	const columns = [
		{ title: "" },
		{ title: "at rad/s", align: "right" },
		{ title: "margin", align: "right" },
		{ title: "" },
	] as const;
	return `${paint.bold("Every crossing")}\n${table(columns, rows, { width, paint })}`;
}
