import { AXES, type GainSet } from "../control/spec.ts";
import type { Craft } from "../craft/model.ts";
import type { FirmwareUnits } from "../handover/firmware-units.ts";
import { describeLimbLead } from "../handover/limb-lead.ts";
import { alternativesWords } from "../report/alternatives-words.ts";
import { bindingSentences, withoutAxis } from "../report/binding-sentences.ts";
import { digits, fixed, many } from "../report/format.ts";
import type { TuneJson } from "../report/json/tune.ts";
import { cautionsText } from "./cautions-text.ts";
import { envelopeText } from "./envelope-text.ts";
import { gainsTable } from "./gains-table.ts";
import { madeByLine } from "./made-by.ts";
import { scheduleText } from "./schedule-text.ts";
import { type Paint, paragraph, right, table } from "./text.ts";

/** What `tune` says: the answer, the gains to type in, why those, what would buy more, how they flew. */
export function tuneText(
	result: TuneJson,
	gainSet: GainSet | null,
	units: FirmwareUnits,
	craft: Craft,
	paint: Paint,
	width: number,
): string {
	if (!result.hover.fit) return cannotHover(result, paint, width);
	return [
		verdict(result, paint, width),
		gainSet
			? `${paint.bold("Starting gains")} in the units of your own code${result.schedule?.feasible ? ", limb folded, no load" : ""}\n${gainsTable(gainSet, units, craft, paint, width)}`
			: "",
		scheduleText(result.schedule, paint, width),
		why(result, paint, width),
		sanity(result, paint, width),
		alternatives(result, paint, width),
		flown(result, paint, width),
		envelopeText(result.envelope, paint, width),
		result.envelope && gainSet && !gainSet.limbLead
			? paragraph(describeLimbLead(1, craft, units), width)
			: "",
		limits(result, paint, width),
		notes(result, paint, width),
		cautionsText(paint, width),
		paint.dim(paragraph(madeByLine(result.madeBy), width)),
	]
		.filter((part) => part !== "")
		.join("\n");
}

/** Gains for such a craft would only tempt someone to try them. */
function cannotHover(result: TuneJson, paint: Paint, width: number): string {
	return [
		paragraph(
			`${paint.red(paint.bold("stop"))}  ${result.hover.sentence} No gains mend that, so none are printed; 'levelhead check' says more.`,
			width,
		),
		cautionsText(paint, width),
		paint.dim(paragraph(madeByLine(result.madeBy), width)),
	].join("\n");
}

function verdict(result: TuneJson, paint: Paint, width: number): string {
	const { envelope } = result;
	const broken = [
		...result.flown.filter((each) => each.status !== "completed"),
		...(envelope?.flights ?? []).filter((each) => each.status !== "completed"),
	];
	if (
		(result.feasible || result.schedule?.feasible) &&
		envelope &&
		envelope.broken.length > 0 &&
		broken.length === 0
	) {
		const [first] = envelope.broken;
		return paragraph(
			`${paint.red(paint.bold("stop"))}  The corners' limits are kept axis by axis, yet with the axes acting on each other ${many(envelope.broken.length, "limit")} of the reach do not hold: ${first!.what} ${digits(first!.value, 3)}, limit ${digits(first!.limit, 3)}, at ${first!.poseDeg.map((a) => a.toFixed(0)).join(", ")} deg with ${first!.loadGrams.toFixed(0)} g. Reach less far, carry less ('levelhead check --reach'), or take a gentler character.`,
			width,
		);
	}
	if (result.schedule?.feasible && broken.length === 0)
		return paragraph(
			`${paint.green(paint.bold("fine"))}  ${
				result.feasible
					? `One set of character '${result.character}' would serve every pose and load; those below follow them instead.`
					: `No one set of character '${result.character}' keeps every limit over the whole reach (${AXES.map(
							(axis) => result.axes[axis].infeasibleBecause,
						)
							.filter((each) => each !== "")
							.join("; ")}). Gains that follow pose and load do.`
			}`,
			width,
		);
	if (result.feasible && broken.length === 0)
		return paragraph(
			`${paint.green(paint.bold("fine"))}  Found gains of character '${result.character}' that keep every limit in all ${result.corners.length} corners${flownIn(result)}.`,
			width,
		);
	if (result.feasible || result.schedule?.feasible)
		return paragraph(
			`${paint.red(paint.bold("stop"))}  The linear limits are kept, yet ${many(broken.length, "test flight")} did not end well: see below.`,
			width,
		);
	return AXES.filter((axis) => !result.axes[axis].feasible)
		.map((axis) =>
			paragraph(
				`${paint.red(paint.bold("stop"))}  No ${axis} gains: ${withoutAxis(axis, result.axes[axis].infeasibleBecause)}.`,
				width,
			),
		)
		.join("");
}

/** Beside gains that follow pose and load, what is said of the one set for all. */
const ofOneSet = (title: string, { schedule }: TuneJson): string =>
	schedule?.feasible ? `One set for every pose and load. ${title}` : title;

function why(result: TuneJson, paint: Paint, width: number): string {
	if (result.binding.length === 0) return "";
	const lines = bindingSentences(result.binding).map((each) => paragraph(`- ${each}`, width, 2));
	return `${paint.bold(ofOneSet("Why not more: the limits that stopped it", result))}\n${lines.join("")}`;
}

function sanity(result: TuneJson, paint: Paint, width: number): string {
	const rows = AXES.flatMap((axis) => {
		const a = result.axes[axis];
		if (!a.worst || !a.crossoverHz) return [];
		return [
			[
				axis,
				`${fixed(a.crossoverHz[0], 2)} - ${fixed(a.crossoverHz[1], 2)}`,
				digits(a.integralRatio ?? 0, 3),
				digits(result.gains[axis]?.kAngle ?? 0, 3).replace(/^0$/, "-"),
				fixed(a.worst.overshootPct, 1),
				fixed(a.worst.noiseRmsPct, 2),
				digits(a.worst.objective, 4),
				a.worst.corner,
			],
		];
	});
	if (rows.length === 0) return "";
	const columns = [
		{ title: "axis" },
		right("crossover Hz"),
		right("ki/kp 1/s"),
		right("k_angle 1/s"),
		right("overshoot %"),
		right("noise %"),
		right("objective"),
		{ title: "worst corner", wrap: true },
	];
	return (
		`${paint.bold(ofOneSet("A look at them", result))}\n${table(columns, rows, { width, paint })}` +
		paragraph(
			"Crossover: how fast the loop acts, over all corners. Noise: RMS motor command from gyro noise. Objective: what was minimised, in the worst corner.",
			width,
			2,
		)
	);
}

function alternatives({ alternatives: list, feasible }: TuneJson, paint: Paint, width: number): string {
	if (list.length === 0) return "";
	return `${paint.bold(alternativesWords(feasible).title)}\n${list.map((each) => paragraph(`- ${each.sentence}`, width, 2)).join("")}`;
}

function flown({ flown: list }: TuneJson, paint: Paint, width: number): string {
	if (list.length === 0) return "";
	const rows = AXES.flatMap((axis) => {
		const mine = list.filter((each) => each.axis === axis);
		const flights = mine.filter((each) => each.overshootPct !== null);
		if (mine.length === 0) return [];
		const worst = flights.reduce((most, each) => Math.max(most, each.overshootPct!), 0);
		const predicted = flights.reduce((most, each) => Math.max(most, each.predictedOvershootPct), 0);
		const bad = mine.filter((each) => each.status !== "completed");
		return [
			[
				axis,
				`${mine.length - bad.length} of ${mine.length}`,
				fixed(worst, 1),
				fixed(predicted, 1),
				bad.map((each) => `${each.corner}: ${each.status}, ${each.reason}`).join("; "),
			],
		];
	});
	const columns = [
		{ title: "axis" },
		right("completed"),
		right("overshoot %"),
		right("predicted %"),
		{ title: "", wrap: true },
	];
	return `${paint.bold("Flown in every corner")} by the full simulator; the worst of them\n${table(columns, rows, { width, paint })}`;
}

const LIMIT_WORDS: { readonly [name: string]: (value: string) => string } = {
	ms: (v) => `Ms at most ${v}`,
	mt: (v) => `Mt at most ${v}`,
	phaseMarginDeg: (v) => `phase margin at least ${v} deg`,
	gainMarginUpDb: (v) => `gain margin up at least ${v} dB`,
	gainMarginDownDb: (v) => `gain margin down at least ${v} dB`,
	delayMarginPeriods: (v) => `delay margin at least ${many(Number(v), "period")} of the slowest clock`,
	leastDelayMarginSec: (v) => `delay margin never less than ${v} s`,
	noiseRms: (v) => `motor command from noise at most ${v} RMS`,
	crossoverPerIntegral: (v) => `ki/kp at most crossover / ${v}`,
	crossoverPerAngle: (v) => `k_angle at most crossover / ${v}`,
	authorityShare: (v) => `a set-point step asks at most ${v} of the authority at once`,
};

function limits(result: TuneJson, paint: Paint, width: number): string {
	const order = Object.keys(LIMIT_WORDS);
	const text = Object.entries(result.limits)
		.sort(([a], [b]) => order.indexOf(a) - order.indexOf(b))
		.map(([name, value]) => {
			const short = String(Number(value.toPrecision(6)));
			return LIMIT_WORDS[name]?.(short) ?? `${name} ${short}`;
		})
		.join("; ");
	return paragraph(`${paint.bold(`Limits of '${result.character}'`)}: ${text}.`, width);
}

function notes(result: TuneJson, paint: Paint, width: number): string {
	const lines = [
		...new Set(AXES.map((axis) => result.axes[axis].periodicNote).filter((note) => note !== "")),
		...result.unflyable.map(({ corner, reason }) => `Not flyable, left out: ${corner} (${reason}).`),
		...result.rules,
	];
	if (lines.length === 0) return "";
	return `${paint.bold("Notes")}\n${lines.map((each) => paragraph(`- ${each}`, width, 2)).join("")}`;
}

/** Corners with the limb out are proven otherwise: by frozen margins and by swings. */
function flownIn({ flown, corners }: TuneJson): string {
	const count = new Set(flown.map(({ corner }) => corner)).size;
	if (count === 0) return "";
	return count === corners.length ? ", and flew them there" : `, and flew them in ${count} of those`;
}
