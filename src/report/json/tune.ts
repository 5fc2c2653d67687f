import { z } from "zod";
import { firmwareGainsSchema } from "./gains.ts";
import { whySchema } from "./loop-fields.ts";
import { madeBySchema } from "./made-by.ts";
import { scheduleSchema } from "./schedule.ts";

const tunedSchema = z
	.strictObject({
		kAngle: z.number().nullable().describe("1/s; null for yaw."),
		kp: z.number().describe("Fraction of command per rad/s."),
		ki: z.number().describe("Fraction of command per rad."),
		kd: z.number().describe("Fraction of command per rad/s^2."),
		why: whySchema,
	})
	.nullable();

const loopNumbersSchema = z.strictObject({
	ms: z.number().nullable(),
	mt: z.number().nullable(),
	phaseMarginDeg: z.number().nullable(),
	gainMarginUpDb: z.number().nullable(),
	gainMarginDownDb: z.number().nullable(),
	delayMarginMs: z.number().nullable(),
	crossoverHz: z.number().nullable(),
	why: whySchema,
});

const cornerSchema = z.strictObject({
	corner: z.string(),
	objective: z.number(),
	overshootPct: z.number(),
	crossoverHz: z.number(),
	noiseRmsPct: z.number(),
	rateLoop: loopNumbersSchema,
	angleLoop: loopNumbersSchema.nullable(),
	wholeAxis: loopNumbersSchema.nullable(),
	why: whySchema,
});

const axisSchema = z.strictObject({
	feasible: z.boolean(),
	infeasibleBecause: z.string().describe("Which limits conflict, where, by how much; empty when feasible."),
	integralRatio: z.number().nullable().describe("ki/kp, 1/s."),
	crossoverHz: z.tuple([z.number(), z.number()]).nullable().describe("Lowest and highest over the corners."),
	worst: cornerSchema.nullable().describe("The corner with the largest objective."),
	problem: z
		.strictObject({
			naturalHz: z.number(),
			torqueStepNm: z.number(),
			setPointStepDeg: z.number().describe("Yaw: deg/s."),
			horizonSec: z.number(),
			ref1: z.number(),
			ref2: z.number(),
			derivativeCutoffHz: z.number(),
			gyroNoiseRadPerSecPerRootHz: z.number(),
		})
		.describe("What the objective is made of (docs/tuning.md)."),
	periodicNote: z.string(),
	why: whySchema,
});

/** `tune --json` */
export const tuneSchema = z.strictObject({
	feasible: z.boolean().describe("Every axis has a solution, and the craft can hover at all."),
	hover: z
		.strictObject({ fit: z.boolean(), sentence: z.string() })
		.describe("Whether the craft can hover at its first operating point, whatever the gains."),
	character: z.enum(["gentle", "even", "lively"]),
	gains: z
		.strictObject({ roll: tunedSchema, pitch: tunedSchema, yaw: tunedSchema, why: whySchema })
		.describe("Internal units; an axis is null when it has no solution."),
	limits: z.record(z.string(), z.number()).describe("The character's limits as used."),
	binding: z
		.array(
			z.strictObject({
				axis: z.string(),
				constraint: z.string(),
				corner: z.string(),
				value: z.number(),
				limit: z.number(),
				unit: z.string(),
				sentence: z.string(),
			}),
		)
		.describe("What stopped the answer, in which corner."),
	objective: z
		.strictObject({
			roll: z.number().nullable(),
			pitch: z.number().nullable(),
			yaw: z.number().nullable(),
			why: whySchema,
		})
		.describe("J in the worst corner; less is better."),
	firmwareGains: firmwareGainsSchema.nullable(),
	axes: z.strictObject({ roll: axisSchema, pitch: axisSchema, yaw: axisSchema }),
	alternatives: z
		.array(
			z.strictObject({
				change: z.string(),
				sentence: z.string(),
				gain: z.number().nullable(),
				why: whySchema,
			}),
		)
		.describe("What would buy more, best first."),
	corners: z.array(z.string()),
	unflyable: z.array(z.strictObject({ corner: z.string(), reason: z.string() })),
	flown: z
		.array(
			z.strictObject({
				corner: z.string(),
				axis: z.string(),
				status: z.string(),
				reason: z.string(),
				overshootPct: z.number().nullable(),
				predictedOvershootPct: z.number(),
				why: whySchema,
			}),
		)
		.describe("The gains flown in every corner by the full simulator; empty with --no-fly."),
	envelope: z
		.strictObject({
			poses: z.number().describe("At which margins were frozen, without and with the load."),
			broken: z.array(
				z.strictObject({
					poseDeg: z.array(z.number()),
					loadGrams: z.number(),
					what: z.string(),
					value: z.number(),
					limit: z.number(),
				}),
			),
			worst: z
				.strictObject({
					poseDeg: z.array(z.number()),
					loadGrams: z.number(),
					diskPhaseDeg: z.number().nullable(),
					diskGainDb: z.number().nullable(),
					why: whySchema,
				})
				.nullable()
				.describe("Where roll, pitch and yaw together may lose the least phase."),
			flights: z.array(
				z.strictObject({
					corner: z.string(),
					kind: z.enum(["swing", "takeUp", "letGo"]).describe("What happens at the farthest pose."),
					status: z.string(),
					reason: z.string(),
					mostTiltDeg: z.number(),
				}),
			),
			leadTiltDeg: z
				.number()
				.nullable()
				.describe("The most leaning of these flights again with limbLead 1, deg; null where it was lost."),
			why: whySchema,
		})
		.nullable()
		.describe("With --reach: one set over every pose and load, frozen and flown; else null."),
	schedule: scheduleSchema
		.nullable()
		.describe(
			"With --reach where no one set serves, or --schedule: gains that follow pose and load; else null.",
		),
	rules: z.array(z.string()).describe("How the rest of the gain set was filled."),
	why: whySchema,
	madeBy: madeBySchema,
});

export type TuneJson = z.infer<typeof tuneSchema>;
