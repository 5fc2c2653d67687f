import { z } from "zod";
import { whySchema } from "./loop-fields.ts";
import { madeBySchema } from "./made-by.ts";

const broken = z.strictObject({ what: z.string(), value: z.number(), limit: z.number() });

/** `check --reach --json` */
export const reachSchema = z.strictObject({
	character: z.string().describe("Whose limits the margins must keep."),
	statedLoadGrams: z.number().describe("The heaviest load of the craft file; 0 where none is."),
	mostLoadGrams: z.number().describe("The most that was tried."),
	farthest: z
		.strictObject({ poseDeg: z.array(z.number()), reachMm: z.number() })
		.nullable()
		.describe("The farthest pose that, with every pose before it, bears the stated load."),
	poses: z.array(
		z.strictObject({
			poseDeg: z.array(z.number()).describe("Each hinge from folded."),
			reachMm: z.number().describe("Of the grip, sideways from the bare craft's centre of mass."),
			gripMm: z.array(z.number()).describe("Forward, right, down from the reference point."),
			clearanceMm: z.number().describe("To the nearest propeller disc."),
			refused: z.string().describe("Empty, or why the pose is refused."),
			reserveGrams: z
				.number()
				.nullable()
				.describe("Heaviest load with which motors, servos and supply keep their reserve."),
			heaviestGrams: z.number().nullable().describe("And with which the margins hold too."),
			stops: z.string().describe("What stops it; empty where nothing does up to the most that was tried."),
			loads: z.array(
				z.strictObject({
					loadGrams: z.number(),
					commands: z.array(z.number()).describe("Per motor, 0..1, in hover."),
					shift: z
						.array(z.number())
						.describe("Per motor, above that of the bare craft with its limb folded."),
					tiltDeg: z.number().nullable(),
					centreOfMassMm: z.array(z.number()),
					productsKgM2: z.array(z.number()).describe("xy, xz, yz about the centre of the whole."),
					servoNm: z.array(z.number()).describe("Per link, to hold the pose."),
					servoAmperes: z.number().nullable().describe("All servos together."),
					stable: z.boolean().nullable(),
					diskPhaseDeg: z.number().nullable().describe("Phase that all axes may lose together."),
					diskGainDb: z.number().nullable(),
					broken: z.array(broken),
					why: whySchema,
				}),
			),
			why: whySchema,
		}),
	),
	cautions: z.array(z.string()),
	madeBy: madeBySchema,
});

export type ReachJson = z.infer<typeof reachSchema>;
