import { z } from "zod";
import { loopFieldsSchema, whySchema } from "./loop-fields.ts";
import { madeBySchema } from "./made-by.ts";

const crossoverSchema = z.discriminatedUnion("kind", [
	z.strictObject({
		kind: z.literal("gain"),
		radPerSec: z.number().nullable(),
		marginDeg: z.number().describe("180 + arg L in (-180, 180], degrees."),
		delayMs: z.number().describe("Least added delay that brings L to -1 here, ms."),
		why: whySchema,
	}),
	z.strictObject({
		kind: z.literal("phase"),
		radPerSec: z.number().nullable(),
		marginDb: z.number().describe("20 log10 of 1/|L|: negative where the gain would have to fall."),
		why: whySchema,
	}),
]);

/** `loop --json` */
export const loopSchema = loopFieldsSchema.extend({
	crossovers: z.array(crossoverSchema).describe("Every crossing, by rising frequency."),
	diskMargin: z
		.strictObject({
			alpha: z.number(),
			sigma: z.number(),
			gainFactorLow: z
				.number()
				.describe("Gain may be multiplied by this; below 0 even a change of sign is borne."),
			gainFactorHigh: z.number().nullable(),
			phaseDeg: z.number(),
			radPerSec: z.number().nullable(),
			why: whySchema,
		})
		.nullable()
		.describe("Balanced disk margin: gain and phase that may change at once."),
	loop: z.strictObject({
		num: z.array(z.number()).describe("Of the loop analysed, highest power first."),
		den: z.array(z.number()),
		variable: z.enum(["s", "z"]),
		delaySec: z.number(),
		sampleTimeSec: z.number().nullable(),
		hold: z.enum(["zoh"]).nullable().describe("zoh: given in s, held and sampled."),
		why: whySchema,
	}),
	madeBy: madeBySchema,
});

export type LoopJson = z.infer<typeof loopSchema>;
