import { type AxisIndex, liftedLoop, UNCHANGED } from "../analysis/lifted.ts";
import { timingChain } from "../analysis/timing-chain.ts";
import { AXES, type AxisName, type FixedGainSet } from "../control/spec.ts";
import type { Limits } from "./characters.ts";
import { axisProblemOf, type CraftModel, type ProblemOptions } from "./craft-problem.ts";
import { createLoopTest, type Gains4, testLoop } from "./loop-test.ts";
import { askedShare } from "./problem.ts";
import type { ConstraintName } from "./result.ts";
import { limitStates } from "./violation.ts";

/** A limit that a closer look finds missed. */
export interface Shortfall {
	readonly axis: AxisName;
	readonly limit: keyof Limits;
	/** Relative. */
	readonly missed: number;
	readonly sentence: string;
}

/** What the coarse grid of the search may miss a limit by. */
const TOLERANCE = 5e-4;
/** The grid of the closer look; the search has 24. */
const POINTS_PER_DECADE = 200;
/** How far to step back from a limit that the periodic answer does not keep. */
const PERIODIC_STEP = 0.03;

/**
 * One axis's gains in some corners on a frequency grid eight times as fine, and, where clocks differ, by the lifted map: it must
 * be stable with each gain and delay margin used up (so that mean ages need not be trusted at all).
 */
export function verifyAxis(
	model: CraftModel,
	set: FixedGainSet,
	axis: AxisName,
	gains: Gains4,
	options: ProblemOptions,
	cornerNames: ReadonlySet<string>,
): Shortfall[] {
	const some: CraftModel = { ...model, corners: model.corners.filter((c) => cornerNames.has(c.name)) };
	const problem = axisProblemOf(some, axis, { ...options, pointsPerDecade: POINTS_PER_DECADE });
	const list: Shortfall[] = [];
	const test = createLoopTest();
	const asked = { share: askedShare(problem, gains) };
	for (const table of problem.tables) {
		testLoop(table, gains, null, test);
		for (const state of limitStates(test, table, gains, options.limits, asked))
			if (state.missed > TOLERANCE && LIMIT_OF[state.constraint])
				list.push({
					axis,
					limit: LIMIT_OF[state.constraint]!,
					missed: state.missed,
					sentence: `${state.constraint} ${state.value.toPrecision(4)} for ${state.limit.toPrecision(4)} in '${table.name}'`,
				});
	}
	if (!model.reference[axis].equalClocks) list.push(...periodicShortfalls(some, set, axis, options.limits));
	return list;
}

function periodicShortfalls(
	model: CraftModel,
	set: FixedGainSet,
	axis: AxisName,
	limits: Limits,
): Shortfall[] {
	const list: Shortfall[] = [];
	const chain = timingChain(model.craft.timing);
	const index = AXES.indexOf(axis) as AxisIndex;
	const up = 10 ** (limits.gainMarginUpDb / 20);
	const down = 10 ** (-limits.gainMarginDownDb / 20);
	for (const { name, linear, plants, yawHeld } of model.corners) {
		const delay = (clock: number): number =>
			Math.max(limits.delayMarginPeriods * clock, limits.leastDelayMarginSec);
		const rateDelay = delay(plants[axis].slowestRateClockSec);
		const angleDelay = delay(plants[axis].slowestClockSec);
		const company: readonly AxisIndex[] = axis === "yaw" && yawHeld ? [2, 0, 1] : [index];
		const lifted = (still: readonly AxisIndex[]) =>
			liftedLoop(linear, chain, set, company, still, company.length > 1);
		const rate = lifted(axis === "yaw" ? [] : [index]);
		const whole = axis === "yaw" ? rate : lifted([]);
		const loops = [
			{ opening: "rate loop", loop: rate, angle: false, delaySec: rateDelay },
			...(axis === "yaw"
				? []
				: [
						{ opening: "whole axis", loop: whole, angle: false, delaySec: angleDelay },
						{ opening: "angle loop", loop: whole, angle: true, delaySec: angleDelay },
					]),
		];
		for (const { opening, loop, angle, delaySec } of loops) {
			const asked = [
				{ limit: "gainMarginUpDb", change: angle ? { angle: up } : { u: up } },
				{ limit: "gainMarginDownDb", change: angle ? { angle: down } : { u: down } },
				{
					limit: "delayMarginPeriods",
					change: angle ? { angleEarlierSec: delaySec } : { applyLaterSec: delaySec },
				},
			] as const;
			for (const { limit, change } of asked)
				if (!(loop.radius([{ ...UNCHANGED, ...change }, UNCHANGED, UNCHANGED].slice(0, company.length)) < 1))
					list.push({
						axis,
						limit,
						missed: PERIODIC_STEP,
						sentence: `${opening}: the periodic answer does not keep ${limit} in '${name}'`,
					});
		}
	}
	return list;
}

/** Limits tightened by what was missed, and a little more. */
export function tightened(
	limits: Limits,
	shortfalls: readonly Pick<Shortfall, "limit" | "missed">[],
): Limits {
	const next: { -readonly [K in keyof Limits]: number } = { ...limits };
	for (const { limit, missed } of shortfalls) {
		const by = 1.1 * missed;
		if (limit === "ms" || limit === "mt" || limit === "noiseRms" || limit === "authorityShare")
			next[limit] = Math.min(next[limit], limits[limit] * (1 - by));
		else next[limit] = Math.max(next[limit], limits[limit] * (1 + by));
	}
	return next;
}

const LIMIT_OF: { readonly [C in ConstraintName]?: keyof Limits } = {
	rateLoopMs: "ms",
	angleLoopMs: "ms",
	wholeAxisMs: "ms",
	angleLoopMt: "mt",
	rateLoopPhaseMargin: "phaseMarginDeg",
	angleLoopPhaseMargin: "phaseMarginDeg",
	wholeAxisPhaseMargin: "phaseMarginDeg",
	rateLoopGainMarginUp: "gainMarginUpDb",
	angleLoopGainMarginUp: "gainMarginUpDb",
	wholeAxisGainMarginUp: "gainMarginUpDb",
	rateLoopGainMarginDown: "gainMarginDownDb",
	angleLoopGainMarginDown: "gainMarginDownDb",
	wholeAxisGainMarginDown: "gainMarginDownDb",
	rateLoopDelayMargin: "delayMarginPeriods",
	angleLoopDelayMargin: "delayMarginPeriods",
	wholeAxisDelayMargin: "delayMarginPeriods",
	noise: "noiseRms",
	integralRatio: "crossoverPerIntegral",
	angleRatio: "crossoverPerAngle",
	authority: "authorityShare",
};
