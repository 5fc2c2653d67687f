import { z } from "zod";
import { whySchema } from "./loop-fields.ts";

/** What made a result: enough to make it again. */
export const madeBySchema = z
	.strictObject({
		program: z.literal("levelhead"),
		version: z.string(),
		scenario: z
			.strictObject({
				name: z.string(),
				file: z.string(),
				sha256: z
					.string()
					.regex(/^[0-9a-f]{64}$/)
					.describe("Of the file's bytes."),
			})
			.nullable(),
		gainSet: z.string().nullable(),
		operatingPoint: z.string().nullable(),
		seed: z.number().int().nullable(),
		why: whySchema,
	})
	.describe("What made this result.");

export type MadeBy = z.infer<typeof madeBySchema>;
