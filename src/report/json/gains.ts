import { z } from "zod";
import { whySchema } from "./loop-fields.ts";

/** Internal units: fraction of command, radians, seconds. */
const axisGainsSchema = z.strictObject({
	kAngle: z.number().nullable().describe("1/s; null for yaw, which holds a rate."),
	kp: z.number().describe("Fraction of command per rad/s (single angle PID: per rad)."),
	ki: z.number().describe("Fraction of command per rad (single angle PID: per rad s)."),
	kd: z.number().describe("Fraction of command per rad/s^2 (single angle PID: per rad/s)."),
	why: whySchema,
});

export const gainsSchema = z.strictObject({
	roll: axisGainsSchema,
	pitch: axisGainsSchema,
	yaw: axisGainsSchema,
});

const firmwareNumberSchema = z.strictObject({ value: z.number(), unit: z.string() });

/** Gain name (kp, ki, kd or Ti, Td, then kAngle and the rest) to number and unit. */
export const firmwareGainsSchema = z
	.strictObject({
		form: z.enum(["parallel", "standard"]),
		conversion: z.string().describe("One worked conversion, in words."),
		limbLead: z
			.string()
			.describe(
				"What the firmware must compute to feed limb and load forward, in words; empty where the set feeds none forward.",
			),
		roll: z.record(z.string(), firmwareNumberSchema),
		pitch: z.record(z.string(), firmwareNumberSchema),
		yaw: z.record(z.string(), firmwareNumberSchema),
	})
	.describe("The same gains in the units of the builder's own code.");

export type GainsJson = z.infer<typeof gainsSchema>;
export type FirmwareGainsJson = z.infer<typeof firmwareGainsSchema>;
