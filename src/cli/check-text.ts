import { digits, fixed, many } from "../report/format.ts";
import type { CheckJson } from "../report/json/check.ts";
import { cautionsText } from "./cautions-text.ts";
import { madeByLine } from "./made-by.ts";
import { type Paint, paragraph, table } from "./text.ts";

/** What `check` says: findings first, then the numbers that they stand on, then what was assumed. */
export function checkText(result: CheckJson, paint: Paint, width: number): string {
	const parts = [
		verdictText(result.verdict, paint, width),
		findingsText(result.findings, paint, width),
		oddText(result.warnings, paint, width),
		result.hover && hoverText(result.hover, result.madeBy.operatingPoint ?? "", paint, width),
		result.massProperties && massText(result.massProperties, paint, width),
		assumedText(result.assumed, paint, width),
		cautionsText(paint, width),
		verdictText(result.verdict, paint, width),
		paint.dim(paragraph(madeByLine(result.madeBy), width)),
	];
	return parts.filter(Boolean).join("\n");
}

/** First and last: a long list scrolls the first one away. */
function verdictText(verdict: CheckJson["verdict"], paint: Paint, width: number): string {
	if (!verdict) return "";
	return paragraph(
		paint.bold(verdict.fit ? paint.green(verdict.sentence) : paint.red(verdict.sentence)),
		width,
	);
}

const WORDS: { readonly [level: string]: "red" | "yellow" | "green" } = {
	stop: "red",
	care: "yellow",
	fine: "green",
};

export function findingsText(findings: CheckJson["findings"], paint: Paint, width: number): string {
	const rank = ["stop", "care", "fine"];
	const sorted = [...findings].sort((a, b) => rank.indexOf(a.level) - rank.indexOf(b.level));
	const rows = sorted.map(({ level, sentence, reason }) => [
		paint.bold(paint[WORDS[level]!](level)),
		`${sentence.replace(/\.$/, "")}${reason ? `: ${paint.dim(reason)}` : ""}.`,
	]);
	return `${paint.bold("Findings")}\n${table([{ title: "" }, { title: "", wrap: true }], rows, { width, paint })}`;
}

function oddText(warnings: CheckJson["warnings"], paint: Paint, width: number): string {
	if (warnings.length === 0) return "";
	const rows = warnings.map(({ path, sentence }) => [path, sentence]);
	return `${paint.bold("Worth a look")}\n${table([{ title: "" }, { title: "", wrap: true }], rows, { width, paint })}`;
}

function hoverText(
	hover: NonNullable<CheckJson["hover"]>,
	point: string,
	paint: Paint,
	width: number,
): string {
	const rows = [
		[
			"motor command",
			fixed(100 * hover.command, 1),
			"%",
			"what each motor is told on average to hold the craft up",
		],
		[
			"throttle stick",
			fixed(100 * hover.stick, 0),
			"%",
			`where it hovers; ${fixed(100 * hover.stickRange[0], 0)} to ${fixed(100 * hover.stickRange[1], 0)} % over battery, load and thrust`,
		],
		[
			"rotor speed",
			digits(hover.rotorSpeedRadPerSec, 4),
			"rad/s",
			`${fixed((hover.rotorSpeedRadPerSec * 30) / Math.PI, 0)} turns a minute`,
		],
		[
			"thrust to weight",
			fixed(hover.thrustToWeight, 2),
			"",
			"full thrust over weight; what is above 1 is left to climb and to correct",
		],
		["power", fixed(hover.powerW, 0), "W", "drawn from the battery, electronics included"],
		["battery", fixed(hover.voltageV, 2), "V", "what is left of it under that load"],
		[
			"endurance",
			fixed(hover.enduranceMin, 1),
			"min",
			hover.why["enduranceMin"] ?? "hovering in still air; plan to land well before",
		],
		[
			"throttle slope",
			digits(hover.throttleSlope, 3),
			"m/s^2 per %",
			"how hard one per cent of throttle stick lifts",
		],
	];
	return `${paint.bold(`Hover at operating point ${point}`)}\n${numbers(rows, paint, width)}`;
}

function massText(mass: NonNullable<CheckJson["massProperties"]>, paint: Paint, width: number): string {
	const [x, y, z] = mass.centreOfMassM.map((m) => fixed(1000 * m, 1));
	const [ixx, iyy, izz] = mass.inertiaKgM2.map((row, i) => digits(row[i]!, 4));
	const rows = [
		["mass", fixed(1000 * mass.massKg, 0), "g", "everything that flies at this operating point"],
		["centre of mass", `${x}, ${y}, ${z}`, "mm", "forward, right and down of the reference point"],
		[
			"inertia",
			`${ixx}, ${iyy}, ${izz}`,
			"kg m^2",
			"about roll, pitch and yaw: how much the craft resists turning",
		],
	];
	return `${paint.bold("Mass")}\n${numbers(rows, paint, width)}${originText(mass, paint, width)}`;
}

const ORIGIN = {
	given: "from the file",
	parts: "from the parts list",
	assumed: "assumed",
	rule: "by a rule from mass and rotor places, so measure it",
} as const;

/** Which number stands on what, and which part gives how much of it. */
function originText(
	{ origin }: NonNullable<CheckJson["massProperties"]>,
	paint: Paint,
	width: number,
): string {
	const { shares } = origin;
	const same = origin.mass === origin.centreOfMass && origin.mass === origin.inertia;
	const said = paragraph(
		same
			? `All of the bare craft's ${ORIGIN[origin.mass]}.`
			: `Bare craft: mass ${ORIGIN[origin.mass]}, centre of mass ${ORIGIN[origin.centreOfMass]}, inertia ${ORIGIN[origin.inertia]}.`,
		width,
		2,
	);
	if (shares.length === 0) return said;
	const sum = (of: (share: (typeof shares)[number]) => number): number =>
		shares.reduce((all, share) => all + of(share), 0);
	const whole = [0, 1, 2].map((k) => sum((share) => share.inertiaKgM2[k]![k]!));
	const mass = sum((share) => share.massKg);
	const rows = shares.map((share) => [
		share.count === 1 ? share.name : `${share.count} x ${share.name}`,
		fixed(1000 * share.massKg, 0),
		fixed((1000 * share.momentKgM[0]) / mass, 1),
		fixed((1000 * share.momentKgM[1]) / mass, 1),
		fixed((1000 * share.momentKgM[2]) / mass, 1),
		...whole.map((all, k) => fixed((100 * share.inertiaKgM2[k]![k]!) / all, 1)),
	]);
	const columns = ["part", "mass g", "forward mm", "right mm", "down mm", "roll %", "pitch %", "yaw %"].map(
		(title, i) => ({ title, align: i === 0 ? ("left" as const) : ("right" as const) }),
	);
	return `${said}${table(columns, rows, { width, paint })}${paragraph("mm: how far that part pulls the centre of mass; %: its share of the inertia.", width, 2)}`;
}

function assumedText(assumed: CheckJson["assumed"], paint: Paint, width: number): string {
	if (assumed.length === 0) return `${paint.bold("Assumed")}\n  Nothing: the file gives every value.\n`;
	const head = paint.bold(`Assumed: ${many(assumed.length, "value")} that the file does not give`);
	const blocks = assumed.map(
		(each) =>
			`  ${paint.bold(each.path)}  ${each.value}\n` +
			paragraph(`${each.because} (${each.source}). Measure: ${each.measure}.`, width, 6),
	);
	return `${head}\n${paragraph("Each one as its path in the file, why it was taken so, and how to do better.", width, 2)}${blocks.join("")}`;
}

function numbers(rows: readonly string[][], paint: Paint, width: number): string {
	const columns = [
		{ title: "" },
		{ title: "", align: "right" },
		{ title: "" },
		{ title: "", wrap: true },
	] as const;
	return table(columns, rows, { width, paint });
}
