import { Command } from "commander";
import { craftReport } from "../../analysis/craft-report.ts";
import { marginsReport } from "../../analysis/margins-report.ts";
import type { GainSet } from "../../control/spec.ts";
import type { OperatingPoint } from "../../craft/model.ts";
import { fly } from "../../flight/engine.ts";
import { bindingSentences } from "../../report/binding-sentences.ts";
import { busiestAxis } from "../../report/busiest-axis.ts";
import { errorsOf, flightJson } from "../../report/fly-json.ts";
import { fixed } from "../../report/format.ts";
import type { Scenario } from "../../scenario/model.ts";
import { tune } from "../../tuning/tune.ts";
import { cautionsText } from "../cautions-text.ts";
import { checkJson } from "../check-json.ts";
import { findingsText } from "../check-text.ts";
import { EXIT } from "../exit.ts";
import { gainsTable } from "../gains-table.ts";
import type { Io } from "../io.ts";
import { madeBy, madeByLine } from "../made-by.ts";
import { marginsJson } from "../margins-json.ts";
import { openScenario, shippedScenario } from "../scenario-file.ts";
import type { Session } from "../session.ts";
import { type Paint, paint, paragraph, table } from "../text.ts";
import { examples } from "../verb-help.ts";

const CHARACTER = "gentle";
const DRILLS = ["roll step", "side gust", "loop stall"];

export function demoVerb(session: Session): Command {
	return new Command("demo")
		.description("The main job on an invented demo craft, start to end: check, tune, fly, margins.")
		.addHelpText("after", examples(["levelhead demo", "about half a minute of reading"]))
		.action(() => {
			session.exit = demo(session.io);
		});
}

function demo(io: Io): number {
	const colours = paint(io.colour);
	const tell = (text: string) => io.out(paragraph(text, io.width));
	const step = (number: number, command: string, what: string) =>
		io.out(
			`\n${colours.bold(`${number} of 4  ${what}`)}\n${colours.dim(`       $ levelhead ${command}`)}\n\n`,
		);
	const opened = openScenario({ ...io, err: () => {} }, shippedScenario("sandpiper"));
	const { scenario, file } = opened;
	const { name: pointName, point } = scenario.operatingPoints[0]!;
	tell(
		"A builder made a quadcopter and wrote its flight code. Before the first hover, which gains to type in? This is how Levelhead answers, on a craft that no one built.",
	);
	tell(scenario.note);

	step(1, `check ${file}`, "Can it hover at all?");
	const report = craftReport(scenario.craft, point);
	const check = checkJson(scenario, point, report, madeBy());
	tell(colours.bold(report.verdict.sentence));
	io.out("\n");
	io.out(findingsText(check.findings, colours, io.width));
	io.out("\n");
	tell(
		`${scenario.assumed.length} values were assumed; 'check' lists each with its reason and how to measure it.`,
	);
	if (!report.verdict.fit) return EXIT.fails;

	step(2, `tune ${file} --character ${CHARACTER}`, "Which gains, and why not more?");
	io.err("searching ...\n");
	const changed = scenario.tuning[CHARACTER];
	const tuned = tune(scenario.craft, { character: CHARACTER, ...(changed ? { limits: changed } : {}) });
	if (!tuned.gainSet) {
		for (const axis of Object.values(tuned.axes)) if (axis.why) tell(axis.why);
		return EXIT.fails;
	}
	tell(
		`Found gains of character '${CHARACTER}' that keep every limit in all ${tuned.corners.length} corners of battery, load, throttle and what is uncertain. What stopped them from being higher:`,
	);
	for (const each of bindingSentences(tuned.binding).slice(0, 4)) io.out(paragraph(`- ${each}`, io.width, 2));
	if (tuned.alternatives.length > 0) tell("What would buy more:");
	for (const each of tuned.alternatives.slice(0, 3)) io.out(paragraph(`- ${each.sentence}`, io.width, 2));

	step(3, `fly ${file} --drill '${DRILLS[0]}'`, "How does it fly with them?");
	const flew = flights(scenario, tuned.gainSet, point, colours, io.width);
	io.out(flew.text);

	step(4, `margins ${file}`, "How far is that from trouble?");
	const safe = margins(io, scenario, tuned.gainSet, point, pointName);

	io.out(`\n${colours.bold("The gains, in the units of the builder's own code")}\n`);
	io.out(gainsTable(tuned.gainSet, scenario.firmware, scenario.craft, colours, io.width));
	io.out(`\n${cautionsText(colours, io.width)}\n`);
	tell("Your own craft is ten lines: copy the example in README.md, then 'levelhead check my-craft.json'.");
	const made = madeBy({
		scenario: { ...opened, name: scenario.name },
		gainSet: `${tuned.gainSet.name} (tuned here)`,
		operatingPoint: pointName,
	});
	io.out(colours.dim(paragraph(madeByLine(made), io.width)));
	return safe && flew.fine ? EXIT.fine : EXIT.fails;
}

function flights(
	scenario: Scenario,
	set: GainSet,
	point: OperatingPoint,
	colours: Paint,
	width: number,
): { text: string; fine: boolean } {
	let fine = true;
	const rows = scenario.drills
		.filter((drill) => DRILLS.includes(drill.name))
		.map((drill) => {
			const flight = fly({ craft: scenario.craft, point, gainSet: set, drill });
			const json = flightJson(flight, scenario.craft, point, drill, set);
			const axis = busiestAxis(json, drill);
			const m = json.metrics[axis];
			const { atEnd, peak, unit } = errorsOf(m);
			const story =
				json.fails[0] ??
				(m.overshootPct === null
					? `${axis} strays ${fixed(peak, 1)} ${unit} at most${m.recoveryTimeMs ? `, back within a degree after ${fixed(m.recoveryTimeMs, 0)} ms` : ""}`
					: `${axis} overshoots by ${fixed(m.overshootPct, 1)} %, ${m.settlingTimeMs === null ? `${fixed(Math.abs(atEnd ?? 0), 2)} ${unit} off when the drill ends` : `settles in ${fixed(m.settlingTimeMs, 0)} ms`}`);
			if (json.fails.length > 0) fine = false;
			return [
				json.fails.length === 0 ? colours.green("fine") : colours.red("stop"),
				drill.name,
				`${drill.about} ${story}.`,
			];
		});
	return {
		text: table([{ title: "" }, { title: "" }, { title: "", wrap: true }], rows, { width, paint: colours }),
		fine,
	};
}

function margins(
	io: Io,
	scenario: Scenario,
	set: GainSet,
	point: OperatingPoint,
	pointName: string,
): boolean {
	const found = marginsReport(scenario.craft, set, point);
	if (!found.feasible) {
		io.out(paragraph(found.reason, io.width));
		return false;
	}
	const json = marginsJson(found.report, madeBy({ operatingPoint: pointName }));
	const colours = paint(io.colour);
	const rows = (["roll", "pitch", "yaw"] as const).map((axis) => {
		const loop = json.axes[axis].wholeAxis ?? json.axes[axis].rateLoop;
		return [
			axis,
			fixed(loop.gainMarginUpDb, 1),
			fixed(loop.phaseMarginDeg, 0),
			fixed(loop.delayMarginMs, 1),
			json.axes[axis].feltHz.sentence,
		];
	});
	const columns = [
		{ title: "axis" },
		{ title: "gain up dB", align: "right" },
		{ title: "phase deg", align: "right" },
		{ title: "delay ms", align: "right" },
		{ title: "what wrong gains would feel like", wrap: true },
	] as const;
	io.out(table(columns, rows, { width: io.width, paint: colours }));
	for (const each of json.limits.broken) io.out(paragraph(`${colours.red("stop")}  ${each}.`, io.width));
	return json.limits.met;
}
