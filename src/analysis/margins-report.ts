import { AXES, type AxisName, type GainSet } from "../control/spec.ts";
import type { Craft, OperatingPoint } from "../craft/model.ts";
import { type AxisLoops, loopMatrix } from "./axis-loops.ts";
import {
	absentLoop,
	changesFor,
	feltContext,
	feltOf,
	frequencyMargins,
	LOWEST_RAD_PER_SEC,
	none,
	type OpeningName,
	scalarAnswers,
} from "./axis-margins.ts";
import { diskReport } from "./disk-report.ts";
import { type AxisIndex, type LoopChange, liftedLoop, UNCHANGED } from "./lifted.ts";
import { type LiftedMargins, liftedMargins } from "./lifted-margins.ts";
import { type LinearCraft, linearise } from "./linearise.ts";
import { type Context, createContext } from "./margins-context.ts";
import type {
	AxisMargins,
	DiskReport,
	MarginsBrief,
	MarginsReport,
	MarginsResult,
	PeriodicAxis,
	PeriodicLoop,
} from "./report-types.ts";
import type { Margin, ScalarLoopResult } from "./scalar-loop-types.ts";
import { slowMode } from "./slow-mode.ts";

/** All margins of a gain set at an operating point, by frequency and lifted over one hyperperiod. */
export function marginsReport(craft: Craft, set: GainSet, point: OperatingPoint): MarginsResult {
	const found = linearise(craft, point);
	if (!found.feasible) return found;
	return { feasible: true, report: reportOn(craft, set, found.linear, feltContext(craft, set, point)) };
}

/** What `check` says of the gains: the frequency answers and stability, nothing else worked out. */
export function marginsBrief(
	craft: Craft,
	set: GainSet,
	point: OperatingPoint,
):
	| { readonly feasible: true; readonly brief: MarginsBrief }
	| { readonly feasible: false; readonly reason: string } {
	const found = linearise(craft, point);
	return found.feasible ? { feasible: true, brief: briefOf(createContext(craft, set, found.linear)) } : found;
}

/** The same of a craft that is linearised already, with the margin of all three axes disturbed together. */
export function marginsWithDisk(
	craft: Craft,
	set: GainSet,
	linear: LinearCraft,
): { readonly brief: MarginsBrief; readonly disk: DiskReport } {
	const context = createContext(craft, set, linear);
	const brief = briefOf(context);
	return { brief, disk: diskOf(context, brief.periodic.stable) };
}

function diskOf({ answer, set, chain, plants, coupled }: Context, stable: boolean): DiskReport {
	const T = 1e-6 * chain.tickUs;
	const loop = loopMatrix(answer, set, T, plants.roll.rateSpacingSec);
	return diskReport(loop, stable, LOWEST_RAD_PER_SEC, Math.PI / T, coupled);
}

function briefOf(context: Context): MarginsBrief {
	const loops = context.loopsFor(context.set);
	const all = allTogether(context);
	const [roll, pitch, yaw] = AXES.map((_, i) => {
		const { rate, angle, whole, why } = scalarAnswers(context, loops[i]!, i as AxisIndex);
		return { rateLoop: rate ?? absentLoop(why["rateLoop"]!), angleLoop: angle, wholeAxis: whole };
	}) as [BriefAxis, BriefAxis, BriefAxis];
	return { axes: { roll, pitch, yaw }, periodic: all };
}

type BriefAxis = MarginsBrief["axes"][AxisName];

/** The closed loop of all three axes. */
function allTogether({ set, linear, chain }: Context): MarginsBrief["periodic"] {
	const held: AxisIndex[] = set.structure === "rateOnly" ? [0, 1] : [];
	const all = liftedLoop(linear, chain, set, [0, 1, 2], held, true);
	const spectralRadius = all.radius([UNCHANGED, UNCHANGED, UNCHANGED]);
	return { hyperperiodSec: all.hyperperiodSec, spectralRadius, stable: spectralRadius < 1 };
}

function reportOn(craft: Craft, set: GainSet, linear: LinearCraft, felt: Context | null): MarginsReport {
	const context = createContext(craft, set, linear);
	const { chain } = context;
	const loops = context.loopsFor(context.set);
	const all = allTogether(context);
	const answers = AXES.map((_, i) => axisMargins(context, felt, loops[i]!, i as AxisIndex));
	const [roll, pitch, yaw] = answers as [AxisAnswer, AxisAnswer, AxisAnswer];
	return {
		axes: { roll: roll.margins, pitch: pitch.margins, yaw: yaw.margins },
		periodic: {
			...all,
			equalClocks: AXES.every((axis) => context.plants[axis].equalClocks),
			rationalised: chain.rationalised,
			axesApart: context.company.every((axes) => axes.length === 1),
			axes: { roll: roll.periodic, pitch: pitch.periodic, yaw: yaw.periodic },
		},
		disk: diskOf(context, all.stable),
		slowMode: set.structure === "rateOnly" ? slowMode(linear, chain, context.set) : null,
		notes: notes(craft, context),
	};
}

interface AxisAnswer {
	readonly margins: AxisMargins;
	readonly periodic: PeriodicAxis;
}

function axisMargins(context: Context, felt: Context | null, loops: AxisLoops, index: AxisIndex): AxisAnswer {
	const answers = scalarAnswers(context, loops, index);
	const { rate, angle, whole, why, closed } = answers;
	const radius = whole ? closed.whole : closed.rate;
	const periodicLoop = (name: OpeningName, answer: ScalarLoopResult | null): PeriodicLoop | null =>
		answer && periodic(context, index, name, answer);
	return {
		margins: {
			...frequencyMargins(context, loops, index, answers),
			felt: feltOf(felt ?? context, index, whole ? "whole" : "rate", radius < 1),
		},
		periodic: {
			stable: radius < 1,
			spectralRadius: radius,
			rateLoop: periodicLoop("rate", rate) ?? absentPeriodic(why["rateLoop"]!),
			angleLoop: periodicLoop("angle", angle),
			wholeAxis: periodicLoop("whole", whole),
		},
	};
}

function periodic(
	context: Context,
	index: AxisIndex,
	name: OpeningName,
	answer: ScalarLoopResult,
): PeriodicLoop {
	const { chain } = context;
	const loop = context.lifted(index, name === "rate" && index < 2);
	const change = (own: Partial<LoopChange>) => changesFor(context, index, { ...UNCHANGED, ...own });
	const clock = name === "angle" ? chain.attitude.periodUs : chain.frame.periodUs;
	const found: LiftedMargins = liftedMargins(
		{
			loop,
			gain: (factor) => change(name === "angle" ? { angle: factor } : { u: factor }),
			delay: (seconds) =>
				change(name === "angle" ? { angleEarlierSec: seconds } : { applyLaterSec: seconds }),
			longestDelaySec: 1e-6 * 60 * clock,
		},
		{
			gainUpDb: answer.gainMarginUpDb,
			gainDownDb: answer.gainMarginDownDb,
			delaySec: answer.delayMarginSec,
		},
	);
	const less = (a: Margin, b: Margin): number | null =>
		a.value === null || b.value === null ? null : a.value - b.value;
	return {
		...found,
		difference: {
			gainMarginUpDb: less(found.gainMarginUpDb, answer.gainMarginUpDb),
			gainMarginDownDb: less(found.gainMarginDownDb, answer.gainMarginDownDb),
			delayMarginSec: less(found.delayMarginSec, answer.delayMarginSec),
		},
	};
}

function absentPeriodic(why: string): PeriodicLoop {
	const margin = none(why);
	return {
		gainMarginUpDb: margin,
		gainMarginDownDb: margin,
		delayMarginSec: margin,
		difference: { gainMarginUpDb: null, gainMarginDownDb: null, delayMarginSec: null },
	};
}

function notes(craft: Craft, { chain, linear, coupled }: Context): string[] {
	const list: string[] = [];
	if (chain.rationalised) list.push(chain.rationalised);
	const { timing, airframe } = craft;
	const free = [
		timing.gyro,
		timing.escFrame,
		...(timing.attitude.kind === "fused" ? [timing.attitude.clock] : []),
	];
	if (free.some((clock) => clock.phaseUs === "free"))
		list.push("clocks of unknown phase are taken where the mean delay is largest");
	if (timing.control.jitterUs > 0 || timing.control.skipChance > 0)
		list.push("loop jitter and skipped ticks are left out here; fly a drill to see them");
	if (airframe.groundEffect) list.push("far from the ground: height and ground effect are left out");
	if (craft.mixer.batteryCompensation)
		list.push("the mixer's battery compensation is held at its trim value");
	if (coupled) list.push("axes act on each other: every margin has the other two axes' loops closed");
	if (!linear.trim.steady) list.push("no steady climb at this throttle: taken at zero climb, accelerating");
	return list;
}
