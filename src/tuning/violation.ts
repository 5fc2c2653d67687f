import type { Limits } from "./characters.ts";
import type { CornerTable } from "./corner-table.ts";
import { ANGLE, type Gains4, type LoopTest, RATE, WHOLE } from "./loop-test.ts";
import type { ConstraintName } from "./result.ts";

/** One limit in one corner. */
export interface LimitState {
	readonly constraint: ConstraintName;
	readonly value: number;
	readonly limit: number;
	readonly unit: string;
	/** Relative: 0 on the limit, below 0 kept. */
	readonly missed: number;
}

/** Share of the authority that a set-point step asks for at once; the same in every corner. */
export interface Asked {
	readonly share: number;
}

const OPENINGS = [
	["rateLoop", RATE],
	["angleLoop", ANGLE],
	["wholeAxis", WHOLE],
] as const;
const deg = (rad: number): number => (rad * 180) / Math.PI;
const decibel = (gain: number): number => 20 * Math.log10(gain);

/** Every limit of one corner, from a `testLoop` that measured everything. */
export function limitStates(
	test: LoopTest,
	table: CornerTable,
	gains: Gains4,
	limits: Limits,
	asked: Asked,
): LimitState[] {
	const [kAngle, kp, ki] = gains;
	const states: LimitState[] = [];
	const most = (constraint: ConstraintName, value: number, limit: number, unit: string): void => {
		states.push({ constraint, value, limit, unit, missed: Math.log(Math.max(value, 1e-9) / limit) });
	};
	const least = (constraint: ConstraintName, value: number, limit: number, unit: string): void => {
		states.push({ constraint, value, limit, unit, missed: limit > 0 ? 1 - value / limit : -Infinity });
	};
	for (const [name, o] of OPENINGS) {
		if (o !== RATE && (!table.hasAngle || kAngle === 0)) break;
		most(`${name}Ms`, test.ms[o]!, limits.ms, "");
		if (o === ANGLE) most("angleLoopMt", test.mt[o]!, limits.mt, "");
		least(`${name}PhaseMargin`, deg(test.phaseMarginRad[o]!), limits.phaseMarginDeg, "deg");
		least(`${name}GainMarginUp`, decibel(test.gainUp[o]!), limits.gainMarginUpDb, "dB");
		least(`${name}GainMarginDown`, -decibel(test.gainDown[o]!), limits.gainMarginDownDb, "dB");
		const delay = o === RATE ? table.leastRateDelaySec : table.leastAngleDelaySec;
		least(`${name}DelayMargin`, 1e3 * test.delaySec[o]!, 1e3 * delay, "ms");
	}
	most("noise", 100 * test.noiseRms, 100 * limits.noiseRms, "% of command");
	const crossover = test.crossover[RATE]!;
	const forIntegral = Math.min(crossover, table.ratioCeilingRadPerSec);
	most("integralRatio", ki / kp, forIntegral / limits.crossoverPerIntegral, "1/s");
	if (table.hasAngle) most("angleRatio", kAngle, crossover / limits.crossoverPerAngle, "1/s");
	most("authority", 100 * asked.share, 100 * limits.authorityShare, "% of authority");
	return states;
}

/** The limit that is missed by most; an unstable loop misses by more than any stable one. */
export function violation(
	test: LoopTest,
	table: CornerTable,
	gains: Gains4,
	limits: Limits,
	asked: Asked,
): LimitState {
	if (!test.stable)
		return {
			constraint: "stable",
			value: 0,
			limit: 1,
			unit: "",
			missed: 100,
		};
	let worst: LimitState | null = null;
	for (const state of limitStates(test, table, gains, limits, asked))
		if (worst === null || state.missed > worst.missed) worst = state;
	return worst!;
}
