import { z } from "zod";
import { whySchema } from "./loop-fields.ts";
import { madeBySchema } from "./made-by.ts";

const vec3 = z.tuple([z.number(), z.number(), z.number()]);

/** `check --json` */
export const checkSchema = z.strictObject({
	valid: z.boolean(),
	errors: z.array(
		z.strictObject({
			path: z.string(),
			value: z.string(),
			expected: z.string(),
			hint: z.string(),
			message: z.string(),
		}),
	),
	warnings: z.array(z.strictObject({ path: z.string(), sentence: z.string() })),
	assumed: z
		.array(
			z.strictObject({
				path: z.string(),
				value: z.string(),
				because: z.string(),
				source: z.string(),
				measure: z.string(),
			}),
		)
		.describe("Every value that the file did not give."),
	hover: z
		.strictObject({
			command: z.number().describe("0..1, mean over the motors."),
			stick: z.number().describe("Throttle stick 0..1 at which it hovers."),
			stickRange: z.tuple([z.number(), z.number()]).describe("Over battery, load and thrust corners."),
			rotorSpeedRadPerSec: z.number().describe("Mean over the rotors."),
			thrustToWeight: z.number(),
			voltageV: z.number().describe("Battery under that load."),
			powerW: z.number().describe("Drawn from the battery, electronics included."),
			enduranceMin: z.number().nullable(),
			throttleSlope: z
				.number()
				.describe("Upward acceleration per per cent of throttle stick at hover, m/s^2."),
			why: whySchema,
		})
		.nullable()
		.describe("At the operating point; null when the craft cannot hover."),
	massProperties: z
		.strictObject({
			massKg: z.number(),
			centreOfMassM: vec3,
			inertiaKgM2: z.tuple([vec3, vec3, vec3]).describe("Rows; about the centre of mass, body axes."),
			origin: z
				.strictObject({
					mass: z.enum(["given", "parts"]),
					centreOfMass: z.enum(["given", "parts", "assumed"]),
					inertia: z.enum(["given", "parts", "rule"]),
					shares: z
						.array(
							z.strictObject({
								name: z.string(),
								count: z.number(),
								massKg: z.number(),
								momentKgM: vec3.describe("Mass times position; the sum is mass times centre of mass."),
								inertiaKgM2: z
									.tuple([vec3, vec3, vec3])
									.describe("About the centre of mass of the parts together; the sum is the craft's."),
							}),
						)
						.describe("One per line of the parts list; empty without one."),
				})
				.describe("Where the bare craft's numbers come from; a load comes on top."),
		})
		.nullable(),
	findings: z.array(
		z.strictObject({
			rule: z.string(),
			level: z.enum(["stop", "care", "fine"]),
			sentence: z.string(),
			reason: z.string(),
		}),
	),
	verdict: z.strictObject({ fit: z.boolean(), sentence: z.string() }).nullable(),
	why: whySchema,
	madeBy: madeBySchema,
});

export type CheckJson = z.infer<typeof checkSchema>;
