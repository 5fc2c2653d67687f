import { ANGLE, createLoopTest, type Gains4, type LoopTest, RATE, testLoop, WHOLE } from "./loop-test.ts";
import { type AxisSearchProblem, askedShare, type CornerCost, cornerCost } from "./problem.ts";
import type { BindingConstraint, ConstraintName, CornerMetrics, LoopNumbers } from "./result.ts";
import { type LimitState, limitStates } from "./violation.ts";

/** Within one per cent of a limit counts as stopped by it. */
const BINDING = 0.01;

export interface AxisReport {
	readonly binding: readonly BindingConstraint[];
	/** Each limit where it is closest, closest first. */
	readonly closest: readonly (LimitState & { readonly corner: string })[];
	readonly worst: CornerMetrics;
	readonly crossoverRange: readonly [number, number];
}

/** Each limit in the corner where it is closest, closest first. */
export function closestLimits(
	problem: AxisSearchProblem,
	gains: Gains4,
): (LimitState & { readonly corner: string })[] {
	const test = createLoopTest();
	const closest = new Map<ConstraintName, LimitState & { readonly corner: string }>();
	const asked = { share: askedShare(problem, gains) };
	for (const table of problem.tables) {
		testLoop(table, gains, null, test);
		const states = test.stable
			? limitStates(test, table, gains, problem.limits, asked)
			: [{ constraint: "stable" as const, value: 0, limit: 1, unit: "", missed: 1 }];
		for (const state of states) {
			const known = closest.get(state.constraint);
			if (!known || state.missed > known.missed)
				closest.set(state.constraint, { ...state, corner: table.name });
		}
	}
	return [...closest.values()].sort((a, b) => b.missed - a.missed);
}

/** Where gains stand in every corner. */
export function axisReport(problem: AxisSearchProblem, gains: Gains4): AxisReport {
	const test = createLoopTest();
	const closest = closestLimits(problem, gains);
	let low = Infinity;
	let high = 0;
	let worst = problem.tables[0]!;
	let cost = cornerCost(problem, worst, gains);
	for (const table of problem.tables) {
		testLoop(table, gains, null, test);
		low = Math.min(low, test.crossover[RATE]!);
		high = Math.max(high, test.crossover[RATE]!);
		if (table === worst) continue;
		const here = cornerCost(problem, table, gains);
		if (!(here.objective > cost.objective)) continue;
		worst = table;
		cost = here;
	}
	testLoop(worst, gains, null, test);
	return {
		closest,
		binding: closest.filter((s) => s.missed > -BINDING).map((s) => asBinding(problem, s)),
		worst: metrics(problem, worst.name, cost, test, gains),
		crossoverRange: [low, high],
	};
}

function metrics(
	problem: AxisSearchProblem,
	corner: string,
	cost: CornerCost,
	test: LoopTest,
	gains: Gains4,
): CornerMetrics {
	const hasAngle = problem.axis !== "yaw" && gains[0] > 0;
	return {
		corner,
		objective: cost.objective,
		torqueIae: cost.torque.iae,
		setPointIae: cost.setPoint.iae,
		overshootPct: 100 * cost.setPoint.overshoot,
		peakDisturbance: cost.torque.peak,
		crossoverRadPerSec: test.crossover[RATE]!,
		rateLoop: numbers(test, RATE),
		angleLoop: hasAngle ? numbers(test, ANGLE) : null,
		wholeAxis: hasAngle ? numbers(test, WHOLE) : null,
		noiseRms: test.noiseRms,
		stable: test.stable,
	};
}

function numbers(test: LoopTest, o: number): LoopNumbers {
	return {
		ms: test.ms[o]!,
		mt: test.mt[o]!,
		phaseMarginDeg: (180 / Math.PI) * test.phaseMarginRad[o]!,
		gainMarginUpDb: 20 * Math.log10(test.gainUp[o]!),
		gainMarginDownDb: -20 * Math.log10(test.gainDown[o]!),
		delayMarginSec: test.delaySec[o]!,
		crossoverRadPerSec: test.crossover[o]!,
	};
}

function asBinding(
	problem: AxisSearchProblem,
	state: LimitState & { readonly corner: string },
): BindingConstraint {
	const { constraint, corner, value, limit, unit } = state;
	return {
		axis: problem.axis,
		constraint,
		corner,
		value,
		limit,
		unit,
		sentence: `${problem.axis}: ${sentenceOf(state)} (${corner})`,
	};
}

const WORDS: { readonly [C in ConstraintName]: string } = {
	stable: "the loop is unstable",
	rateLoopMs: "rate loop Ms",
	angleLoopMs: "angle loop Ms",
	wholeAxisMs: "whole axis Ms",
	angleLoopMt: "angle loop Mt",
	rateLoopPhaseMargin: "rate loop phase margin",
	angleLoopPhaseMargin: "angle loop phase margin",
	wholeAxisPhaseMargin: "whole axis phase margin",
	rateLoopGainMarginUp: "rate loop gain margin up",
	angleLoopGainMarginUp: "angle loop gain margin up",
	wholeAxisGainMarginUp: "whole axis gain margin up",
	rateLoopGainMarginDown: "rate loop gain margin down",
	angleLoopGainMarginDown: "angle loop gain margin down",
	wholeAxisGainMarginDown: "whole axis gain margin down",
	rateLoopDelayMargin: "rate loop delay margin",
	angleLoopDelayMargin: "angle loop delay margin",
	wholeAxisDelayMargin: "whole axis delay margin",
	noise: "gyro noise in u",
	integralRatio: "ki/kp against crossover",
	angleRatio: "k_angle against crossover",
	authority: "what a set-point step asks at once",
};

/** 'rate loop Ms 1.4, limit 1.4' */
function sentenceOf(state: LimitState, digits = 3): string {
	if (state.constraint === "stable") return WORDS.stable;
	const unit = state.unit === "" ? "" : ` ${state.unit}`;
	const [value, limit] = [state.value, state.limit].map((x) => Number(x.toPrecision(digits)));
	return `${WORDS[state.constraint]} ${value}${unit}, limit ${limit}${unit}`;
}

/** With as many digits as show that the limit is missed: 'rate loop Ms 1.4013, limit 1.4'; or that it is just kept. */
export function missOf(state: LimitState): string {
	if (state.missed <= 0) return `${sentenceOf(state)}, just kept`;
	const digits = [3, 4, 5, 6, 7, 8].find(
		(n) => Number(state.value.toPrecision(n)) !== Number(state.limit.toPrecision(n)),
	);
	return sentenceOf(state, digits);
}
