import { z } from "zod";
import { whySchema } from "./loop-fields.ts";
import { madeBySchema } from "./made-by.ts";

const status = z.enum(["completed", "diverged", "flipped", "brownOut", "hitGround", "tippedOver"]);

const fallSchema = z
	.strictObject({
		fromSec: z.number().describe("Where the clock of the other times starts."),
		direction: z
			.enum(["front", "front-right", "right", "rear-right", "rear", "rear-left", "left", "front-left"])
			.nullable()
			.describe("Where it leans when it falls, or at its furthest."),
		fallSec: z.number().nullable().describe("Until 40 degrees, or until it tips over on the ground."),
		tilt300Deg: z.number().describe("Largest within 300 ms."),
		tiltDeg: z.number().describe("Largest within the flight."),
		shakeHz: z.number().nullable(),
		shakeDegPerSec: z.number().nullable().describe("Largest turn rate of the axis that shakes most."),
		turnDegPerSec: z
			.number()
			.nullable()
			.describe("About the vertical after a second, at 40 degrees or at the end; clockwise above 0."),
		why: whySchema,
	})
	.describe("Measured on the trace.");

/** `check --wrong-builds --json` */
export const wrongBuildsSchema = z.strictObject({
	right: z.strictObject({ status, first: z.string() }).describe("The right build in the same flight."),
	builds: z.array(
		z.strictObject({
			kind: z.string().describe("As `fly --wrong` takes it."),
			title: z.string(),
			motors: z
				.array(z.number())
				.describe("The builder's numbers of those concerned; empty where it concerns none."),
			chosen: z.string().describe("Why these motors; empty where there is no choice."),
			status,
			timeSec: z.number().describe("When the flight ended."),
			fall: fallSchema,
			sideByChance: z.boolean().describe("Other noise lets it fall to another side, or turn the other way."),
			first: z.string().describe("What the first moment off the ground looks like."),
			bench: z.string().describe("What one sees on the bench, propellers off."),
			apart: z.string().describe("What tells it from the other mistakes."),
			alike: z.array(z.string()).describe("Kinds, or 'right build', that the bench cannot tell from it."),
		}),
	),
	cautions: z.array(z.string()),
	madeBy: madeBySchema,
});

export type FallJson = z.infer<typeof fallSchema>;
export type WrongBuildsJson = z.infer<typeof wrongBuildsSchema>;
