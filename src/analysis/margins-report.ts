import { AXES, type AxisName, type GainSet } from "../control/spec.ts";
import type { Craft, OperatingPoint } from "../craft/model.ts";
import { type AxisLoops, loopMatrix } from "./axis-loops.ts";
import { diskReport } from "./disk-report.ts";
import { feltFrequencies } from "./felt-frequencies.ts";
import { type AxisIndex, type LoopChange, liftedLoop, UNCHANGED } from "./lifted.ts";
import { type LiftedMargins, liftedMargins } from "./lifted-margins.ts";
import { type LinearCraft, linearise } from "./linearise.ts";
import { type Context, createContext } from "./margins-context.ts";
import { phaseLedger } from "./phase-ledger.ts";
import type {
	AxisMargins,
	DiskReport,
	MarginsBrief,
	MarginsReport,
	MarginsResult,
	PeriodicAxis,
	PeriodicLoop,
} from "./report-types.ts";
import { analyseScalarLoop } from "./scalar-loop.ts";
import type { LoopResponse, Margin, ScalarLoopResult } from "./scalar-loop-types.ts";
import { slowMode } from "./slow-mode.ts";

/** Below this no loop of a multirotor does anything that a pilot would not hold by hand. */
const LOWEST_RAD_PER_SEC = 0.05;

/** All margins of a gain set at an operating point, by frequency and lifted over one hyperperiod. */
export function marginsReport(craft: Craft, set: GainSet, point: OperatingPoint): MarginsResult {
	const found = linearise(craft, point);
	if (!found.feasible) return found;
	return { feasible: true, report: reportOn(craft, set, found.linear, feltContext(craft, set, point)) };
}

/**
 * What is felt is a swing in which every motor speeds up as much as it slows down: it goes by the mean of both lags, while margins
 * take the slower to be safe. Null where they are the same.
 */
function feltContext(craft: Craft, set: GainSet, point: OperatingPoint): Context | null {
	const { tauUpSec, tauDownSec } = craft.propulsion;
	if (point.motorLag !== "slower" || tauUpSec === tauDownSec) return null;
	const found = linearise(craft, { ...point, motorLag: "mean" });
	return found.feasible ? createContext(craft, set, found.linear) : null;
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

type OpeningName = "rate" | "angle" | "whole";

function reportOn(craft: Craft, set: GainSet, linear: LinearCraft, felt: Context | null): MarginsReport {
	const context = createContext(craft, set, linear);
	const { chain } = context;
	const loops = context.loopsFor(set);
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
		slowMode: set.structure === "rateOnly" ? slowMode(linear, chain, set) : null,
		notes: notes(craft, context),
	};
}

interface AxisAnswer {
	readonly margins: AxisMargins;
	readonly periodic: PeriodicAxis;
}

interface ScalarAnswers {
	readonly rate: ScalarLoopResult | null;
	readonly angle: ScalarLoopResult | null;
	readonly whole: ScalarLoopResult | null;
	/** For every null its reason. */
	readonly why: Readonly<Record<string, string>>;
	/** Spectral radius of the closed axis, angle path open and closed. */
	readonly closed: { readonly rate: number; readonly whole: number };
}

function scalarAnswers(context: Context, loops: AxisLoops, index: AxisIndex): ScalarAnswers {
	const { plants } = context;
	const axis = AXES[index]!;
	const T = plants[axis].periodSec;
	const closed = { rate: radiusOf(context, index, "rate"), whole: radiusOf(context, index, "whole") };
	const analyse = (name: OpeningName): ScalarLoopResult | null => {
		const respond = loops[name];
		if (!respond) return null;
		const radius = name === "rate" ? closed.rate : closed.whole;
		return analyseScalarLoop({
			respond,
			lowestRadPerSec: LOWEST_RAD_PER_SEC,
			highestRadPerSec: Math.PI / T,
			// With unequal clocks the answer is an average, not real at pi/T.
			...(plants[axis].equalClocks ? { periodSec: T } : {}),
			stable: radius < 1,
			whyUnstable: `the closed loop grows by a factor ${radius.toPrecision(4)} every ${(1e-3 * context.chain.hyperperiodUs).toPrecision(4)} ms`,
		});
	};
	const rate = analyse("rate");
	const angle = analyse("angle");
	const whole = analyse("whole");
	const why: Record<string, string> = {};
	if (!rate) why["rateLoop"] = loops.why.rate!;
	if (!angle) why["angleLoop"] = loops.why.angle!;
	if (!whole) why["wholeAxis"] = loops.why.whole!;
	return { rate, angle, whole, why, closed };
}

function axisMargins(context: Context, felt: Context | null, loops: AxisLoops, index: AxisIndex): AxisAnswer {
	const answers = scalarAnswers(context, loops, index);
	const { rate, angle, whole, why, closed } = answers;
	const radius = whole ? closed.whole : closed.rate;
	const periodicLoop = (name: OpeningName, answer: ScalarLoopResult | null): PeriodicLoop | null =>
		answer && periodic(context, index, name, answer);
	return {
		margins: frequencyMargins(context, felt, loops, index, answers),
		periodic: {
			stable: radius < 1,
			spectralRadius: radius,
			rateLoop: periodicLoop("rate", rate) ?? absentPeriodic(why["rateLoop"]!),
			angleLoop: periodicLoop("angle", angle),
			wholeAxis: periodicLoop("whole", whole),
		},
	};
}

/** All that the frequency answers say of one axis. */
function frequencyMargins(
	context: Context,
	felt: Context | null,
	loops: AxisLoops,
	index: AxisIndex,
	{ rate, angle, whole, why, closed }: ScalarAnswers,
): AxisMargins {
	const { set, plants } = context;
	const axis = AXES[index]!;
	const T = plants[axis].periodSec;
	const outer = whole ? "whole" : "rate";
	const ledgerLoop = set.structure === "anglePid" && axis !== "yaw" ? whole : rate;
	const ledgerAt = ledgerLoop?.crossoverRadPerSec.value ?? null;
	return {
		rateLoop: rate ?? absentLoop(why["rateLoop"]!),
		angleLoop: angle,
		wholeAxis: whole,
		why,
		ledgerRadPerSec: ledgerAt,
		phaseLedger:
			ledgerAt === null
				? []
				: ledger(context, axis, ledgerLoop === rate ? loops.rate! : loops.whole!, ledgerAt),
		felt: feltFrequencies({
			set,
			axis,
			loopFor: (s) => outerLoop((felt ?? context).loopsFor(s)[index]!, outer),
			lowestRadPerSec: LOWEST_RAD_PER_SEC,
			highestRadPerSec: Math.PI / T,
			...(plants[axis].equalClocks ? { periodSec: T } : {}),
			stable: (outer === "whole" ? closed.whole : closed.rate) < 1,
			hasAngleLoop: whole !== null,
		}),
	};
}

/** One axis by its frequency answers, without the periodic ones that cost most: what follows a drag. */
export function axisMarginsQuick(
	craft: Craft,
	set: GainSet,
	point: OperatingPoint,
	axis: AxisName,
):
	| {
			readonly feasible: true;
			readonly margins: AxisMargins;
			/** Time constants of the lags on the way; null where there is none. */
			readonly motorLagSec: number;
			readonly gyroLowPassSec: number | null;
			/** Of attitude readings: mean age of the sample when a tick uses it, and in it the sensor's own latency. */
			readonly attitude: { readonly ageSec: number; readonly latencySec: number };
	  }
	| { readonly feasible: false; readonly reason: string } {
	const found = linearise(craft, point);
	if (!found.feasible) return found;
	const context = createContext(craft, set, found.linear);
	const { gyroLowPassHz } = craft.sensors;
	const index = AXES.indexOf(axis) as AxisIndex;
	const loops = context.loopsFor(set)[index]!;
	return {
		feasible: true,
		margins: frequencyMargins(
			context,
			feltContext(craft, set, point),
			loops,
			index,
			scalarAnswers(context, loops, index),
		),
		motorLagSec: found.linear.motorLagSec,
		gyroLowPassSec: gyroLowPassHz === null ? null : 1 / (2 * Math.PI * gyroLowPassHz),
		attitude: {
			ageSec: context.chain.attitudeAge.meanSec,
			latencySec: 1e-6 * context.chain.attitudeLatencyUs,
		},
	};
}

/** Frequency answers of one axis of a craft that is linearised already, and how fast it swings up by itself, 1/s; `felt`: with the mean of both motor lags. */
export function axisMarginsOf(
	craft: Craft,
	set: GainSet,
	linear: LinearCraft,
	felt: LinearCraft,
	axis: AxisName,
): { readonly margins: AxisMargins; readonly growthPerSec: number } {
	const context = createContext(craft, set, linear);
	const index = AXES.indexOf(axis) as AxisIndex;
	const loops = context.loopsFor(set)[index]!;
	const answers = scalarAnswers(context, loops, index);
	const radius = answers.whole ? answers.closed.whole : answers.closed.rate;
	return {
		margins: frequencyMargins(context, createContext(craft, set, felt), loops, index, answers),
		growthPerSec: Math.log(radius) / (1e-6 * context.chain.hyperperiodUs),
	};
}

/** With a gain taken out there may be no outer loop left in name; its answer is then the inner one's. */
function outerLoop(loops: AxisLoops, outer: "whole" | "rate"): LoopResponse {
	const loop = outer === "whole" ? (loops.all.whole ?? loops.rate) : loops.all.rate;
	if (!loop) throw new Error("marginsReport: an axis without any loop");
	return loop;
}

function radiusOf(context: Context, index: AxisIndex, name: "rate" | "whole"): number {
	const rateOnly = name === "rate" && index < 2;
	return context.lifted(index, rateOnly).radius(changesFor(context, index, UNCHANGED));
}

function changesFor(context: Context, index: AxisIndex, own: LoopChange): LoopChange[] {
	return context.company[index]!.map((axis) => (axis === index ? own : UNCHANGED));
}

function ledger(context: Context, axis: AxisName, loop: LoopResponse, omega: number) {
	const { linear, chain, set, craft, plants } = context;
	const anglePid = set.structure === "anglePid" && axis !== "yaw";
	return phaseLedger(
		{
			linear,
			chain,
			set,
			axis,
			gyroLowPassHz: craft.sensors.gyroLowPassHz,
			rateSpacingSec: plants[axis].rateSpacingSec,
			loop,
			path: anglePid ? "angle" : "gyro",
		},
		omega,
	);
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

function none(why: string): Margin {
	return { value: null, radPerSec: null, why, verdict: "satisfied" };
}

/** A loop that is not there: nothing to limit. */
function absentLoop(why: string): ScalarLoopResult {
	const margin = none(why);
	return {
		stable: true,
		why: "",
		crossings: [],
		gainMarginUpDb: margin,
		gainMarginDownDb: margin,
		phaseMarginDeg: margin,
		delayMarginSec: margin,
		crossoverRadPerSec: margin,
		bandwidthRadPerSec: margin,
		ms: margin,
		mt: margin,
		stabilityRadius: margin,
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
