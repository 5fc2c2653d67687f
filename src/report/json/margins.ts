import { z } from "zod";
import { loopFieldsSchema, whySchema } from "./loop-fields.ts";
import { madeBySchema } from "./made-by.ts";

const ledgerSchema = z
	.array(
		z.strictObject({
			element: z.string(),
			kind: z.enum(["timing", "control", "craft"]),
			delayMs: z.number().nullable().describe("Its delay; null where it is a lag and not a delay."),
			degrees: z.number().describe("Phase that it costs (negative) or gives at the rate loop's crossover."),
			why: whySchema,
		}),
	)
	.describe("Degrees of each element at crossover, in the order of the chain; their sum is arg L.");

const feltHzSchema = z
	.strictObject({
		fastShake: z.number().nullable().describe("Too much kp shakes at this frequency, Hz."),
		slowWallow: z.number().nullable().describe("Too much ki or k_angle wallows at this frequency, Hz."),
		sentence: z.string(),
		limits: z.array(
			z.strictObject({
				gain: z.enum(["kp", "ki", "kd", "kAngle"]),
				factor: z.number().describe("The gain may rise to this many times its value."),
				hz: z.number(),
			}),
		),
		why: whySchema,
	})
	.describe("What wrong gains feel like.");

const axisSchema = z.strictObject({
	rateLoop: loopFieldsSchema.describe("Opened at u, angle loop open."),
	angleLoop: loopFieldsSchema.nullable().describe("Opened at the angle error, rate loop closed."),
	wholeAxis: loopFieldsSchema.nullable().describe("Opened at u, both loops closed."),
	phaseLedger: ledgerSchema,
	feltHz: feltHzSchema,
	why: whySchema,
});

const differenceSchema = z.number().nullable();

const periodicLoopSchema = z.strictObject({
	gainMarginUpDb: z.number().nullable(),
	gainMarginDownDb: z.number().nullable(),
	delayMarginMs: z.number().nullable(),
	difference: z
		.strictObject({
			gainMarginUpDb: differenceSchema,
			gainMarginDownDb: differenceSchema,
			delayMarginMs: differenceSchema,
			why: whySchema,
		})
		.describe("This answer less the frequency answer's."),
	why: whySchema,
});

const periodicAxisSchema = z.strictObject({
	stable: z.boolean(),
	spectralRadius: z.number(),
	rateLoop: periodicLoopSchema,
	angleLoop: periodicLoopSchema.nullable(),
	wholeAxis: periodicLoopSchema.nullable(),
	why: whySchema,
});

/** `margins --json` */
export const marginsSchema = z.strictObject({
	axes: z.strictObject({ roll: axisSchema, pitch: axisSchema, yaw: axisSchema }),
	periodic: z
		.strictObject({
			hyperperiodMs: z.number(),
			equalClocks: z.boolean(),
			rationalised: z.string().describe("Clocks that were changed to meet in time; empty for none."),
			stable: z.boolean(),
			spectralRadius: z
				.number()
				.describe(
					"Largest |eigenvalue| of the map over one hyperperiod, all axes closed; below 1 is stable.",
				),
			axesApart: z
				.boolean()
				.describe("Whether each axis was answered alone, their coupling being negligible."),
			axes: z.strictObject({ roll: periodicAxisSchema, pitch: periodicAxisSchema, yaw: periodicAxisSchema }),
		})
		.describe("The exact answer where clocks differ: the loop lifted over one hyperperiod."),
	diskMargin: z
		.strictObject({
			alpha: z.number().nullable(),
			gainDb: z
				.number()
				.nullable()
				.describe("Each loop's gain may change by plus or minus this, all at once."),
			phaseDeg: z.number().nullable(),
			radPerSec: z.number().nullable(),
			why: whySchema,
		})
		.describe("Roll, pitch and yaw disturbed together at u (balanced, sigma 0)."),
	slowMode: z
		.strictObject({
			axis: z.enum(["roll", "pitch"]),
			growthPerSec: z.number(),
			hz: z.number(),
			sentence: z.string(),
		})
		.nullable()
		.describe("Rate-only use: how the craft drifts off when no one holds its tilt."),
	limits: z.strictObject({
		met: z.boolean().describe("Whether the exit code is 0."),
		broken: z.array(z.string()).describe("What is below the limit, one sentence each."),
		gainMarginDb: z.number(),
		phaseMarginDeg: z.number(),
	}),
	notes: z.array(z.string()),
	why: whySchema,
	madeBy: madeBySchema,
});

export type MarginsJson = z.infer<typeof marginsSchema>;
