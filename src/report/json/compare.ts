import { z } from "zod";
import { flightSchema } from "./fly.ts";
import { firmwareGainsSchema, gainsSchema } from "./gains.ts";
import { whySchema } from "./loop-fields.ts";
import { madeBySchema } from "./made-by.ts";

const cellSchema = z.strictObject({
	set: z.string(),
	value: z.number().nullable(),
	difference: z.number().nullable().describe("Value less the base set's."),
	best: z.boolean(),
	fails: z.boolean(),
	why: whySchema,
});

/** `compare --json` */
export const compareSchema = z.strictObject({
	base: z.string(),
	sets: z.array(
		z.strictObject({
			name: z.string(),
			gains: gainsSchema,
			firmwareGains: firmwareGainsSchema,
			fails: z
				.array(z.string())
				.describe("What is wrong with this set, one sentence each; empty for nothing."),
			trade: z.string().describe("What it trades against the base set, a sentence."),
		}),
	),
	rows: z
		.array(
			z.strictObject({
				drill: z.string().nullable().describe("null for what no flight is needed for (margins)."),
				what: z.string().describe("Such as 'roll overshootPct'."),
				unit: z.string(),
				better: z.enum(["less", "more"]),
				cells: z.array(cellSchema),
				why: whySchema,
			}),
		)
		.describe("One number over all sets."),
	flights: z.array(z.strictObject({ set: z.string(), flight: flightSchema })),
	madeBy: madeBySchema,
});

export type CompareJson = z.infer<typeof compareSchema>;
