import { AXES, type AxisName, type GainSet } from "../control/spec.ts";
import type { Craft, OperatingPoint } from "../craft/model.ts";
import type { AxisLoops } from "./axis-loops.ts";
import { closeLoop, polesOutside } from "./closed-loop.ts";
import { feltFrequencies } from "./felt-frequencies.ts";
import { type AxisIndex, type LoopChange, UNCHANGED } from "./lifted.ts";
import { type LinearCraft, linearise } from "./linearise.ts";
import { type Context, createContext } from "./margins-context.ts";
import { phaseLedger } from "./phase-ledger.ts";
import type { AxisMargins, FeltFrequencies } from "./report-types.ts";
import { analyseScalarLoop } from "./scalar-loop.ts";
import type { LoopResponse, Margin, ScalarLoopResult } from "./scalar-loop-types.ts";

/** Below this no loop of a multirotor does anything that a pilot would not hold by hand. */
export const LOWEST_RAD_PER_SEC = 0.05;

/**
 * What is felt is a swing in which every motor speeds up as much as it slows down: it goes by the mean of both lags, while margins
 * take the slower to be safe. Null where they are the same.
 */
export function feltContext(craft: Craft, set: GainSet, point: OperatingPoint): Context | null {
	const { tauUpSec, tauDownSec } = craft.propulsion;
	if (point.motorLag !== "slower" || tauUpSec === tauDownSec) return null;
	const found = linearise(craft, { ...point, motorLag: "mean" });
	return found.feasible ? createContext(craft, set, found.linear) : null;
}

export type OpeningName = "rate" | "angle" | "whole";

export interface ScalarAnswers {
	readonly rate: ScalarLoopResult | null;
	readonly angle: ScalarLoopResult | null;
	readonly whole: ScalarLoopResult | null;
	/** For every null its reason. */
	readonly why: Readonly<Record<string, string>>;
	/** Spectral radius of the closed axis, angle path open and closed. */
	readonly closed: { readonly rate: number; readonly whole: number };
}

/**
 * How a closed loop is judged: 'lifted' over a whole hyperperiod; 'meanAges' by the axis alone with every age at its mean, which
 * tells the same but where a loop is all but unstable, in a fraction of the time: for what follows a drag.
 */
export type Judgement = "lifted" | "meanAges";

export function scalarAnswers(
	context: Context,
	loops: AxisLoops,
	index: AxisIndex,
	judgement: Judgement = "lifted",
): ScalarAnswers {
	const { plants } = context;
	const axis = AXES[index]!;
	const T = plants[axis].periodSec;
	const radius = judgement === "lifted" ? radiusOf : radiusAtMeanAges;
	const closed = { rate: radius(context, index, "rate"), whole: radius(context, index, "whole") };
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
			whyUnstable: `the closed loop grows${judgement === "lifted" ? ` by a factor ${radius.toPrecision(4)} every ${(1e-3 * context.chain.hyperperiodUs).toPrecision(4)} ms` : ""}`,
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

/** What follows from the margins alone. */
export type FrequencyMargins = Omit<AxisMargins, "felt">;

/** All that the frequency answers say of one axis but what is felt. */
export function frequencyMargins(
	context: Context,
	loops: AxisLoops,
	index: AxisIndex,
	{ rate, angle, whole, why }: ScalarAnswers,
): FrequencyMargins {
	const { set } = context;
	const axis = AXES[index]!;
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
	};
}

/** @param context of the lag that is felt */
export function feltOf(
	context: Context,
	index: AxisIndex,
	outer: "whole" | "rate",
	stable: boolean,
): FeltFrequencies {
	const { set, plants } = context;
	const axis = AXES[index]!;
	const T = plants[axis].periodSec;
	return feltFrequencies({
		set,
		axis,
		loopFor: (s) => outerLoop(context.loopsFor(s)[index]!, outer),
		lowestRadPerSec: LOWEST_RAD_PER_SEC,
		highestRadPerSec: Math.PI / T,
		...(plants[axis].equalClocks ? { periodSec: T } : {}),
		stable,
		hasAngleLoop: outer === "whole",
	});
}

/** One axis on the latency line. */
export interface AxisOnTheLine {
	readonly feasible: true;
	readonly margins: FrequencyMargins;
	/** Time constants of the lags on the way; null where there is none. */
	readonly motorLagSec: number;
	readonly gyroLowPassSec: number | null;
	/** Of attitude readings: mean age of the sample when a tick uses it, and in it the sensor's own latency. */
	readonly attitude: { readonly ageSec: number; readonly latencySec: number };
}
export type Infeasible = { readonly feasible: false; readonly reason: string };

/** One axis by its frequency answers, without the periodic ones that cost most. */
export function axisOnTheLine(
	craft: Craft,
	set: GainSet,
	point: OperatingPoint,
	axis: AxisName,
	judgement: Judgement = "lifted",
): AxisOnTheLine | Infeasible {
	const found = linearise(craft, point);
	if (!found.feasible) return found;
	const context = createContext(craft, set, found.linear);
	const { gyroLowPassHz } = craft.sensors;
	const index = AXES.indexOf(axis) as AxisIndex;
	const loops = context.loopsFor(context.set)[index]!;
	return {
		feasible: true,
		margins: frequencyMargins(context, loops, index, scalarAnswers(context, loops, index, judgement)),
		motorLagSec: found.linear.motorLagSec,
		gyroLowPassSec: gyroLowPassHz === null ? null : 1 / (2 * Math.PI * gyroLowPassHz),
		attitude: {
			ageSec: context.chain.attitudeAge.meanSec,
			latencySec: 1e-6 * context.chain.attitudeLatencyUs,
		},
	};
}

/** What is felt of one axis alone. */
export function feltOnAxis(
	craft: Craft,
	set: GainSet,
	point: OperatingPoint,
	axis: AxisName,
): { readonly feasible: true; readonly felt: FeltFrequencies } | Infeasible {
	const found = linearise(craft, point);
	if (!found.feasible) return found;
	const context = createContext(craft, set, found.linear);
	const index = AXES.indexOf(axis) as AxisIndex;
	const outer = context.loopsFor(context.set)[index]!.whole ? "whole" : "rate";
	const stable = radiusOf(context, index, outer) < 1;
	return { feasible: true, felt: feltOf(feltContext(craft, set, point) ?? context, index, outer, stable) };
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
	const loops = context.loopsFor(context.set)[index]!;
	const answers = scalarAnswers(context, loops, index);
	const radius = answers.whole ? answers.closed.whole : answers.closed.rate;
	return {
		margins: {
			...frequencyMargins(context, loops, index, answers),
			felt: feltOf(createContext(craft, set, felt), index, answers.whole ? "whole" : "rate", radius < 1),
		},
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

/** 0 where the loop is stable, else infinite. */
function radiusAtMeanAges({ plants, set }: Context, index: AxisIndex, name: "rate" | "whole"): number {
	const plant = plants[AXES[index]!];
	const closed = name === "rate" ? { ...plant, sampled: plant.sampledRate } : plant;
	return polesOutside(closeLoop(closed, set)) === 0 ? 0 : Number.POSITIVE_INFINITY;
}

export function changesFor(context: Context, index: AxisIndex, own: LoopChange): LoopChange[] {
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

export function none(why: string): Margin {
	return { value: null, radPerSec: null, why, verdict: "satisfied" };
}

/** A loop that is not there: nothing to limit. */
export function absentLoop(why: string): ScalarLoopResult {
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
