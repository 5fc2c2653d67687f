import { z } from "zod";
import { whySchema } from "./loop-fields.ts";
import { madeBySchema } from "./made-by.ts";

/** `sweep --json` */
export const sweepSchema = z.strictObject({
	complete: z.boolean().describe("false: stopped by Ctrl-C; the cells that were finished are here."),
	measure: z.enum(["margins", "flown"]),
	axis: z.enum(["roll", "pitch", "yaw"]),
	drill: z.string().nullable(),
	over: z.array(
		z.strictObject({
			path: z.string(),
			unit: z.string().describe("As the file writes it; empty for plain numbers."),
			values: z.array(z.number()),
		}),
	),
	columns: z.array(z.string()).describe("Names of `numbers`, in order."),
	result: z.string().describe("The column asked for."),
	cells: z
		.array(
			z.strictObject({
				index: z.number().int(),
				values: z.array(z.number()),
				numbers: z.array(z.number().nullable()).describe("null: see why."),
				why: z.string(),
			}),
		)
		.describe("Row by row: the first --over turns slowest."),
	why: whySchema,
	madeBy: madeBySchema,
});

export type SweepJson = z.infer<typeof sweepSchema>;
