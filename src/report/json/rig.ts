import { z } from "zod";
import { whySchema } from "./loop-fields.ts";

const loopSchema = z.strictObject({
	stable: z.boolean().describe("The whole axis; yaw and rate-only use: the rate loop."),
	rateGainMarginUpDb: z.number().nullable(),
	ratePhaseMarginDeg: z.number().nullable(),
	rateCrossoverHz: z.number().nullable(),
	wholeGainMarginUpDb: z.number().nullable(),
	wholePhaseMarginDeg: z.number().nullable(),
	growthPerSec: z.number().describe("Of what swings with the loop closed; above 0 it swings up by itself."),
	shakesAtKpTimes: z.number().nullable(),
	shakeHz: z.number().nullable(),
	why: whySchema,
});

export const rigSchema = z.strictObject({
	kind: z.enum(["pivot", "strings"]),
	axis: z.enum(["roll", "pitch", "yaw"]),
	ofHover: z.number().describe("Throttle over that of hover when the axis is first asked for something."),
	craftInertiaKgM2: z.number().describe("About the axis, through the craft's own centre of mass."),
	swingingInertiaKgM2: z.number().describe("Of the craft's mass about the pivot, m r^2."),
	rigInertiaKgM2: z.number(),
	inertiaFactor: z.number().describe("Sum of the three over the first."),
	stiffnessNmPerRad: z.number().describe("Torque that holds it a radian off level; below 0 it topples."),
	periodSec: z.number().nullable().describe("Of its swing without the loop."),
	fastPeriodSec: z.number().nullable().describe("Of the second, faster swing on strings."),
	frictionNmSecPerRad: z.number(),
	outputPctPerDeg: z.number().nullable().describe("Of u, per degree of lean, that the stiffness takes."),
	onRig: loopSchema.nullable().describe("Null where there is nothing to hold margins about."),
	inAir: loopSchema.nullable(),
	sentences: z.array(z.string()).describe("Why gains judged on this rig mislead, each with its number."),
	why: whySchema,
});

export type RigJson = z.infer<typeof rigSchema>;
export type RigLoopJson = z.infer<typeof loopSchema>;
