import { z } from "zod";
import { whySchema } from "./loop-fields.ts";
import { madeBySchema } from "./made-by.ts";
import { rigSchema } from "./rig.ts";

const step = {
	overshootPct: z.number().nullable().describe("Of the step."),
	riseTimeMs: z.number().nullable().describe("10 to 90 % of the step."),
	peakTimeMs: z.number().nullable(),
	settlingTimeMs: z
		.number()
		.nullable()
		.describe("Last crossing into 2 % of the step; null when not settled."),
	settlingTime5PctMs: z.number().nullable().describe("The same for 5 %."),
	recoveryTimeMs: z
		.number()
		.nullable()
		.describe("From the disturbance until within 1 deg (rates: 5 deg/s) of the set-point for good."),
	why: whySchema,
};

const angleSchema = z.strictObject({
	...step,
	steadyStateErrorDeg: z
		.number()
		.nullable()
		.describe("Set-point less the mean over the last tenth, degrees."),
	iaeDegSec: z.number().nullable().describe("Integral of |set-point - value|, deg s."),
	peakDeviationDeg: z.number().nullable().describe("Largest |set-point - value|, degrees."),
});

const rateSchema = z.strictObject({
	...step,
	steadyStateErrorDegPerSec: z.number().nullable(),
	iaeDegPerSecSec: z.number().nullable().describe("Integral of |set-point - rate|, deg/s times s."),
	peakDeviationDegPerSec: z.number().nullable(),
});

const tiltSchema = z.union([angleSchema, rateSchema]).describe("Rates in rate-only use, else angles.");

export const flightSchema = z.strictObject({
	status: z.enum(["completed", "diverged", "flipped", "brownOut", "hitGround", "tippedOver"]),
	reason: z.string().describe("How it ended, a sentence; empty for completed."),
	timeSec: z.number().describe("When it ended."),
	fails: z.array(z.string()).describe("Why the exit code is 1, one sentence each; empty for fine."),
	drill: z.strictObject({ name: z.string(), about: z.string(), durationSec: z.number() }),
	metrics: z.strictObject({ roll: tiltSchema, pitch: tiltSchema, yaw: rateSchema }),
	actuators: z.strictObject({
		activityPct: z
			.number()
			.nullable()
			.describe(
				"RMS change of a motor's command from one record of the trace to the next, per cent of full.",
			),
		saturatedPct: z
			.number()
			.nullable()
			.describe(
				"Share of the time with motors live in which roll, pitch and yaw had one at full or lowest, per cent. Not counted: an end that throttle itself asks for, and time with a foot on the ground.",
			),
		leastBatteryV: z.number().nullable().describe("Under load."),
		leastHeadroomPct: z
			.number()
			.nullable()
			.describe("Least distance of any motor to full or lowest, per cent."),
		why: whySchema,
	}),
	heights: z
		.array(
			z.strictObject({
				atSec: z.number().describe("When it was asked for."),
				by: z.enum(["law", "pilot"]).describe("Who held the throttle."),
				targetM: z.number(),
				arrivalMs: z.number().nullable().describe("From being asked until within 10 cm for the first time."),
				peakErrorM: z
					.number()
					.nullable()
					.describe(
						"Largest distance from the target after arriving, until another is asked for or the throttle left.",
					),
				rmsErrorM: z.number().nullable().describe("Its root mean square over the same time."),
				lowestM: z.number().nullable().describe("Of the feet over the ground, over the same time."),
				highestM: z.number().nullable(),
				crossoverRadPerSec: z
					.number()
					.nullable()
					.describe("Of person and craft together, linear, at hover; null for the law."),
				phaseMarginDeg: z.number().nullable(),
				gainMarginDb: z.number().nullable().describe("Upward."),
				why: whySchema,
			}),
		)
		.describe("The heights that the drill asks for, in order of time."),
	notes: z.array(z.string()).describe("What the firmware did by itself, with its time."),
	outsideModel: z.array(z.string()).describe("Where the flight left what the model covers."),
});

/** `fly --json` */
export const flySchema = flightSchema.extend({
	wrong: z
		.strictObject({
			kind: z.string().describe("As --wrong has it; empty for the build as the firmware believes it."),
			title: z.string(),
			motors: z.array(z.number()).describe("The builder's numbers of those concerned."),
			chosen: z.string().describe("Why these motors; empty where they were named."),
			first: z
				.string()
				.describe(
					"How it begins to go wrong, measured from the start, or from when it gets light on the ground.",
				),
		})
		.describe("The mistake it was flown with."),
	with: z
		.array(
			z.strictObject({
				path: z.string().describe("Into the file, as sweep --over has it."),
				value: z.string().describe("As it was typed; empty: taken out, so that its default held."),
			}),
		)
		.describe("What --with set for this flight; empty without it."),
	rigs: z
		.array(
			rigSchema.extend({
				air: z
					.strictObject({
						status: flightSchema.shape.status,
						reason: z.string(),
						timeSec: z.number(),
						metrics: tiltSchema,
					})
					.nullable()
					.describe("The same drill without the rig, at hover throttle; null without --beside-air."),
			}),
		)
		.describe("The rig that holds the craft and how it differs from the air; empty for a free flight."),
	madeBy: madeBySchema,
});

export type FlightJson = z.infer<typeof flightSchema>;
export type FlyJson = z.infer<typeof flySchema>;
export type RigBesideAirJson = FlyJson["rigs"][number];
export type AngleMetricsJson = z.infer<typeof angleSchema>;
export type RateMetricsJson = z.infer<typeof rateSchema>;
