import { z } from "zod";
import type { Margin, ScalarLoopResult } from "../../analysis/scalar-loop-types.ts";

/** Field name to the reason why it is null. */
export const whySchema = z
	.record(z.string(), z.string())
	.describe("For every field beside it that is null: why there is no number.");

export type Why = Record<string, string>;

/** The margins of one opened loop, named alike in `margins` and `loop`. */
export const loopFieldsSchema = z.strictObject({
	stable: z.boolean().describe("Whether the closed loop is stable; why.stable says what is wrong when not."),
	gainMarginUpDb: z
		.number()
		.nullable()
		.describe("How far the gain may rise before the loop is on the edge, dB."),
	gainMarginDownDb: z
		.number()
		.nullable()
		.describe("How far the gain may fall before the loop is on the edge, dB."),
	phaseMarginDeg: z.number().nullable().describe("Least |180 + arg L| over all gain crossings, degrees."),
	delayMarginMs: z.number().nullable().describe("Least added delay that brings the loop to the edge, ms."),
	crossoverHz: z.number().nullable().describe("Highest frequency where |L| = 1, Hz."),
	bandwidthHz: z.number().nullable().describe("First frequency where |L/(1+L)| has fallen by 3 dB, Hz."),
	ms: z.number().nullable().describe("Peak of |1/(1+L)|."),
	mt: z.number().nullable().describe("Peak of |L/(1+L)|."),
	why: whySchema,
});

export type LoopFields = z.infer<typeof loopFieldsSchema>;

export function loopFields(result: ScalarLoopResult): LoopFields {
	const why: Why = {};
	if (!result.stable) why["stable"] = result.why || "the closed loop is unstable";
	const take = (key: string, margin: Margin, factor = 1): number | null => {
		if (margin.value === null) {
			why[key] = margin.why;
			return null;
		}
		return margin.value * factor;
	};
	return {
		stable: result.stable,
		gainMarginUpDb: take("gainMarginUpDb", result.gainMarginUpDb),
		gainMarginDownDb: take("gainMarginDownDb", result.gainMarginDownDb),
		phaseMarginDeg: take("phaseMarginDeg", result.phaseMarginDeg),
		delayMarginMs: take("delayMarginMs", result.delayMarginSec, 1000),
		crossoverHz: take("crossoverHz", result.crossoverRadPerSec, 1 / (2 * Math.PI)),
		bandwidthHz: take("bandwidthHz", result.bandwidthRadPerSec, 1 / (2 * Math.PI)),
		ms: take("ms", result.ms),
		mt: take("mt", result.mt),
		why,
	};
}
