import { z } from "zod";
import { whySchema } from "./loop-fields.ts";
import { madeBySchema } from "./made-by.ts";

/** `check --first-minute --json` */
export const firstMinuteSchema = z.strictObject({
	ways: z.array(
		z.strictObject({
			way: z.string(),
			title: z.string(),
			often: z.number().describe("1: seen most among first flights, 2, 3; common practice, no source."),
			lostSec: z.number().nullable().describe("From when it gets light, or from what went wrong."),
			first: z.string().describe("What the first 300 ms look like, flown."),
			bench: z.string().describe("How to notice it with the propellers off."),
			again: z.string().describe("A command that flies it, or one like it."),
			why: whySchema,
		}),
	),
	flown: z.number().describe("How many ways were flown."),
	survived: z.array(z.string()).describe("Flown as well and not lost."),
	cautions: z.array(z.string()),
	madeBy: madeBySchema,
});

/** `check --stalls --json` */
export const stallsSchema = z.strictObject({
	axes: z.array(
		z.strictObject({
			axis: z.enum(["roll", "pitch", "yaw"]),
			survivesMs: z.number().nullable().describe("The longest stall survived at hover, ms."),
			beyond: z.string().describe("What a stall one millisecond longer does; empty where there is none."),
			why: whySchema,
		}),
	),
	madeBy: madeBySchema,
});

export type FirstMinuteJson = z.infer<typeof firstMinuteSchema>;
export type StallsJson = z.infer<typeof stallsSchema>;
