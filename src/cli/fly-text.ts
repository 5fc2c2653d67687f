import { listed } from "../analysis/bench-sentences.ts";
import { AXES } from "../control/spec.ts";
import { CLOSE_CALL, closeCalls } from "../report/flown-words.ts";
import { errorsOf } from "../report/fly-json.ts";
import { fixed } from "../report/format.ts";
import type { FlightJson, FlyJson } from "../report/json/fly.ts";
import { cautionsText } from "./cautions-text.ts";
import { madeByLine } from "./made-by.ts";
import { rigText } from "./rig-text.ts";
import { type Paint, paragraph, right, table } from "./text.ts";

export function flyText(result: FlyJson, paint: Paint, width: number): string {
	return [
		wrongText(result, paint, width),
		withText(result, paint, width),
		statusText(result, paint, width),
		metricsText(result, paint, width),
		motorsText(result, paint, width),
		heightText(result, paint, width),
		rigText(result, paint, width),
		notesText(result, paint, width),
		outsideText(result, paint, width),
		result.wrong.kind === "" && result.rigs.length === 0 ? "" : cautionsText(paint, width),
		paint.dim(paragraph(madeByLine(result.madeBy), width)),
	]
		.filter((part) => part !== "")
		.join("\n");
}

function wrongText({ wrong }: FlyJson, paint: Paint, width: number): string {
	if (wrong.kind === "") return "";
	const motors =
		wrong.motors.length === 0
			? ""
			: `, ${wrong.motors.length === 1 ? "motor" : "motors"} ${listed(wrong.motors)}${wrong.chosen ? ` (${wrong.chosen})` : ""}`;
	return (
		paragraph(`${paint.bold(paint.yellow("Wrong build"))}: ${wrong.title}${motors}.`, width) +
		paragraph(wrong.first, width)
	);
}

function withText(result: FlyJson, paint: Paint, width: number): string {
	if (result.with.length === 0) return "";
	const set = result.with.map(({ path, value }) =>
		value === "" ? `${path} left out` : `${path} = ${value}`,
	);
	return paragraph(`${paint.bold("For this flight only")}: ${set.join(", ")}.`, width);
}

function statusText(result: FlightJson, paint: Paint, width: number): string {
	const flown = `Flown to the end, ${fixed(result.timeSec, 2)} s`;
	const close = closeCalls(result);
	const lines =
		result.fails.length === 0
			? [
					close.length === 0
						? `${paint.bold(paint.green("fine"))}  ${flown}.`
						: `${paint.bold(paint.yellow("care"))}  ${flown}, but only just: ${close.join("; ")}. ${CLOSE_CALL}`,
				]
			: result.fails.map((each) => `${paint.bold(paint.red("stop"))}  ${each}.`);
	const { name, about } = result.drill;
	const title = paragraph(`${paint.bold(`Drill '${name}'`)}${about === "" ? "" : `: ${about}`}`, width);
	return title + lines.map((line) => paragraph(line, width)).join("");
}

function metricsText({ metrics, status }: FlightJson, paint: Paint, width: number): string {
	if (status !== "completed" && AXES.every((axis) => errorsOf(metrics[axis]).peak === null))
		return paragraph("No step numbers: the flight ended before its time.", width);
	const rows = AXES.map((axis) => {
		const m = metrics[axis];
		const { unit, atEnd, iae, peak } = errorsOf(m);
		return [
			axis,
			unit,
			fixed(m.overshootPct, 1),
			fixed(m.riseTimeMs, 0),
			fixed(m.settlingTimeMs, 0),
			fixed(peak, 2),
			fixed(m.recoveryTimeMs, 0),
			fixed(atEnd, 2),
			fixed(iae, 3),
		];
	});
	const columns = [
		{ title: "axis" },
		{ title: "unit" },
		right("overshoot %"),
		right("rise ms"),
		right("settled ms"),
		right("most off"),
		right("back ms"),
		right("end error"),
		right("IAE"),
	];
	const reasons = AXES.flatMap((axis) => {
		const { why } = metrics[axis];
		return why["settlingTimeMs"] && why["settlingTimeMs"] !== why["overshootPct"]
			? [`${axis} did not settle: ${why["settlingTimeMs"]} (a band is 2 % of the step).`]
			: [];
	});
	return (
		table(columns, rows, { width, paint }) +
		paragraph(
			"Angles in deg, turn rates in deg/s. Rise: 10 to 90 % of the step. Settled: within 2 % of the step for good. Most off: the largest distance from the set-point. Back: from the disturbance until within 1 deg (5 deg/s) of it for good. " +
				"IAE: that distance summed over time, so less is better. '-': does not apply to this drill.",
			width,
			2,
		) +
		reasons.map((each) => paragraph(each, width, 2)).join("")
	);
}

function motorsText({ actuators: a }: FlightJson, paint: Paint, width: number): string {
	return paragraph(
		`${paint.bold("Motors")}: ${fixed(a.saturatedPct, 1)} % of the time one is at full or lowest because of roll, pitch or yaw (not because throttle asks for it, nor on the ground), least headroom ${fixed(a.leastHeadroomPct, 1)} % of full command; the command changes by ${fixed(a.activityPct, 2)} % from record to record (RMS; much means hot motors). Battery ${fixed(a.leastBatteryV, 2)} V at least.`,
		width,
	);
}

function heightText({ heights }: FlightJson, paint: Paint, width: number): string {
	const lines = heights.map((each) => {
		const who = each.by === "pilot" ? "a person at the throttle" : "a plain law at the throttle";
		const kept =
			each.arrivalMs === null
				? each.why["arrivalMs"]
				: `${each.arrivalMs === 0 ? "there from the start" : `within 10 cm for the first time after ${fixed(each.arrivalMs / 1000, 2)} s`}, from then on up to ${fixed(each.peakErrorM, 2)} m off, ${fixed(each.rmsErrorM, 3)} m RMS`;
		return paragraph(
			`${paint.bold("Height")} ${fixed(each.targetM, 2)} m from ${fixed(each.atSec, 2)} s on, ${who}: ${kept}.`,
			width,
		);
	});
	const person = heights.find((each) => each.by === "pilot");
	if (!person) return lines.join("");
	const loop =
		person.phaseMarginDeg === null
			? `Person and craft: ${person.why["phaseMarginDeg"]}.`
			: `Person and craft together cross over at ${fixed(person.crossoverRadPerSec, 1)} rad/s with ${fixed(person.phaseMarginDeg, 0)} deg of phase margin and ${fixed(person.gainMarginDb, 1)} dB of gain margin. The person is a model that has got used to this craft: a first hover is flown by one who has not.`;
	return lines.join("") + paragraph(loop, width, 2);
}

function notesText({ notes }: FlightJson, paint: Paint, width: number): string {
	if (notes.length === 0) return "";
	return `${paint.bold("Noted in flight")}\n${notes.map((each) => paragraph(`- ${each}`, width, 2)).join("")}`;
}

function outsideText({ outsideModel }: FlightJson, paint: Paint, width: number): string {
	if (outsideModel.length === 0) return "";
	return `${paint.yellow(paint.bold("Outside the model"))}\n${outsideModel.map((each) => paragraph(`- ${each}`, width, 2)).join("")}`;
}
