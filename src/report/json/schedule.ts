import { z } from "zod";
import { firmwareGainsSchema, gainsSchema } from "./gains.ts";
import { whySchema } from "./loop-fields.ts";

/** Gains over poses and loads of the reach arm. */
export const scheduleSchema = z.strictObject({
	feasible: z.boolean(),
	infeasibleBecause: z
		.string()
		.describe("Which pose and load no gains serve, and why; empty where all are served."),
	hinge: z.string().describe("Whose angle the firmware follows."),
	anglesDeg: z.array(z.number()).describe("Breakpoints, ascending."),
	loadsGrams: z.array(z.number()),
	checked: z
		.number()
		.describe(
			"Poses and loads at which every limit holds, every loop closed: breakpoints and half-way between in every corner, the proof's poses at the nominal point.",
		),
	points: z
		.array(
			z.strictObject({
				poseDeg: z.array(z.number()),
				loadGrams: z.number(),
				gains: gainsSchema.nullable(),
				firmwareGains: firmwareGainsSchema.nullable(),
				why: whySchema,
			}),
		)
		.describe("Row by row of angles, in each the loads. Null with the reason where none were found."),
});
