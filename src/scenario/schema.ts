import { z } from "zod";
import { craftSchema } from "./craft-schema.ts";
import { drillSchema } from "./drill-schema.ts";
import { freeText, list, nameText, plain, quantity as q, section, triple, whole, words } from "./quantity.ts";
import { scheduleSchema } from "./schedule-schema.ts";

/** The version that is written; older ones migrate. */
export const CURRENT_VERSION = 2;

const gain = (about: string) => plain(about, { atLeast: 0, atMost: 1e7 }).optional();

const axisGains = {
	kp: gain("Proportional, rate loop"),
	ki: gain("Integral, rate loop"),
	kd: gain("Derivative, rate loop"),
	ti: gain("Integral time, standard form only"),
	td: gain("Derivative time, standard form only"),
	kff: gain("Feed-forward of the rate set-point"),
	setPointWeight: q("fraction", {}, "b in P = kp (b set-point - measured)").optional(),
	integralLimit: q("fraction", {}, "Of full command").optional(),
	outputLimit: q("fraction", { above: 0 }, "Of full command").optional(),
	rateLimit: q("turnRate", { above: 0 }).optional(),
	angleIntegralLimit: q("turnRate", { atLeast: 0 }).optional(),
	derivativeCutoff: q("frequency").optional(),
};

const tiltGains = section({
	kAngle: gain("Angle loop, 1/s"),
	kAngleI: gain("Integral of the angle loop, 1/s^2"),
	...axisGains,
});

const filter = z.discriminatedUnion(
	"kind",
	[
		section({ kind: z.literal("lowPass1"), cutoff: q("frequency") }),
		section({
			kind: z.literal("lowPass2"),
			cutoff: q("frequency"),
			damping: plain("Damping ratio", { above: 0, atMost: 10 }).optional(),
		}),
		section({ kind: z.literal("notch"), centre: q("frequency"), width: q("frequency") }),
	],
	{ error: 'a filter with "kind": "lowPass1", "lowPass2" or "notch"' },
);

const gainSet = section({
	name: nameText,
	note: freeText.optional(),
	structure: words("cascade where left out", ["cascade", "anglePid", "rateOnly"]).optional(),
	units: words("What kp, ki, kd, kff, kAngle, kAngleI are written in", ["internal", "firmware"]).optional(),
	roll: tiltGains,
	pitch: tiltGains.optional(),
	yaw: section(axisGains),
	filters: list(filter, "In the rate path, in order", 0, 8).optional(),
	integralOnGround: words("Integrals before lift-off: held at 0 (where left out), or running", [
		"held",
		"runs",
	]).optional(),
	liftOffAtHoverShare: plain("Lifted off once throttle stands at this share of hover", {
		above: 0,
		atMost: 2,
	}).optional(),
	liftOffFor: q("time", { atMost: 10 }, "for so long").optional(),
	limbLead: q(
		"fraction",
		{},
		"Of the trim that the limb's pose and its load ask for, added to the output as the limb moves",
	).optional(),
	schedule: scheduleSchema.optional(),
});

const factor = (about: string) => plain(about, { atLeast: 0.1, atMost: 10 }).optional();

const operatingPoint = section({
	name: nameText,
	battery: z
		.union([z.enum(["full", "nominal", "nearlyEmpty"]), section({ stateOfCharge: q("fraction") })], {
			error: '"full", "nominal", "nearlyEmpty" or {"stateOfCharge": "40 %"}',
		})
		.optional(),
	load: z
		.union([z.enum(["none", "heaviest"]), section({ mass: q("mass", { above: undefined, atLeast: 0 }) })], {
			error: '"none", "heaviest" or {"mass": "200 g"}',
		})
		.optional(),
	throttle: z
		.union([z.enum(["hover", "full"]), plain("Throttle", { atLeast: 0, atMost: 1 })], {
			error: '"hover", "full" or a number 0 to 1',
		})
		.optional(),
	wind: triple("speed", "Mean wind, north, east, down").optional(),
	limb: list(
		q("angle", { atLeast: -7, atMost: 7 }),
		"Each hinge from folded; the load is then in the grip",
		1,
		4,
	).optional(),
	inertiaFactor: factor("Inertia over the craft's own"),
	thrustFactor: factor("Thrust over the craft's own"),
	motorLagFactor: factor("Motor lag over the craft's own"),
	motorLag: words("Which lag the linear model takes", ["up", "down", "slower", "mean"]).optional(),
});

const firmware = section({
	angle: words("Angles in your code", ["deg", "rad"]).optional(),
	integral: words("Whether ki has the tick's period in it", ["perSecond", "perTick"]).optional(),
	derivative: words("Whether kd has the tick's period in it", ["perSecond", "perTick"]).optional(),
	output: words("Unit of the PID's output", ["us", "fraction", "percent", "counts"]).optional(),
	outputFullScale: plain("The whole command range in that output", { above: 0 }).optional(),
	form: words("parallel: kp, ki, kd; standard: kp, ti, td", ["parallel", "standard"]).optional(),
	derivativeOn: words("What D is taken of", ["measurement", "error"]).optional(),
	derivativeFilter: words("What is typed for D's filter", ["cutoffHz", "exp", "rc"]).optional(),
	mixLargestEntry: z
		.tuple([plain("Roll", { above: 0 }), plain("Pitch", { above: 0 }), plain("Yaw", { above: 0 })], {
			error: "three numbers above 0: [roll, pitch, yaw]",
		})
		.optional(),
	motorNumbers: list(whole("Motor number", 0, 99), "Of each rotor, in the craft's order", 4, 8).optional(),
});

const limits = section({
	ms: plain("Peak of |S|", { above: 1, atMost: 100 }).optional(),
	mt: plain("Peak of |T|", { above: 1, atMost: 100 }).optional(),
	phaseMargin: q("angle", { above: 0, atMost: 1.6 }).optional(),
	gainMarginUpDb: plain("dB", { above: 0, atMost: 60 }).optional(),
	gainMarginDownDb: plain("dB", { above: 0, atMost: 60 }).optional(),
	delayMarginPeriods: plain("Periods of the slowest clock", { atLeast: 0, atMost: 100 }).optional(),
	leastDelayMargin: q("time").optional(),
	noise: q("fraction", { above: 0 }, "RMS of the command").optional(),
	crossoverPerIntegral: plain("wc over ki/kp", { above: 0, atMost: 1000 }).optional(),
	crossoverPerAngle: plain("wc over kAngle", { above: 0, atMost: 1000 }).optional(),
});

const tuning = section(
	{ gentle: limits.optional(), even: limits.optional(), lively: limits.optional() },
	"Limits in place of a character's own",
);

/** The scenario file, current version: this one definition validates files and makes the JSON Schema. */
export const scenarioSchema = section({
	$schema: freeText.optional(),
	levelhead: z
		.literal(CURRENT_VERSION, { error: `the file's version, ${CURRENT_VERSION}` })
		.meta({ description: "Version of this file format" }),
	name: nameText.optional(),
	note: freeText.optional(),
	citation: freeText.optional(),
	craft: craftSchema,
	operatingPoints: list(operatingPoint, "Named operating points", 0, 50).optional(),
	gainSets: list(gainSet, "The rack", 0, 50).optional(),
	drills: list(drillSchema, "Scripted test flights", 0, 100).optional(),
	firmware: firmware.optional(),
	tuning: tuning.optional(),
});

export type ScenarioInput = z.output<typeof scenarioSchema>;
export type GainSetInput = NonNullable<ScenarioInput["gainSets"]>[number];
export type PointInput = NonNullable<ScenarioInput["operatingPoints"]>[number];
