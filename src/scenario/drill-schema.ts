import { z } from "zod";
import {
	freeText,
	list,
	nameText,
	plain,
	quantity as q,
	section,
	triple,
	whole,
	words,
	yesNo,
} from "./quantity.ts";

const at = q("time", { atMost: 600 }, "From the start of the drill");
const lasting = q("time", { above: 0, atMost: 600 });
const sensor = words("Sensor", ["gyro", "attitude"]);
const axis = words("Axis", ["roll", "pitch", "yaw"]);

const event = z.discriminatedUnion(
	"kind",
	[
		section({
			kind: z.literal("angle"),
			at,
			axis: words("Axis", ["roll", "pitch"]),
			angle: q("angle", { atLeast: -1.5, atMost: 1.5 }),
		}),
		section({ kind: z.literal("rate"), at, axis, rate: q("turnRate", { atLeast: -50, atMost: 50 }) }),
		section({
			kind: z.literal("stick"),
			at,
			axis: words("Stick", ["roll", "pitch", "yaw", "throttle"]),
			reading: q("time", { atLeast: 1e-4, atMost: 0.01 }),
		}),
		section({
			kind: z.literal("throttle"),
			at,
			throttle: z.union(
				[q("fraction"), section({ ofHover: plain("Times the hover throttle", { atLeast: 0, atMost: 5 }) })],
				{ error: 'a fraction such as 0.4 or {"ofHover": 1.15}' },
			),
			over: q("time", { above: 0, atMost: 60 }, "Raised evenly to it for so long").optional(),
		}),
		section({
			kind: z.literal("height"),
			at,
			height: q("length", { atLeast: 0, atMost: 100 }, "Of the feet, to be kept from here on"),
			by: words("Who holds the throttle: a plain law or a model of a person", ["law", "pilot"]),
		}),
		section({ kind: z.literal("leaveThrottle"), at }),
		section({
			kind: z.literal("torque"),
			at,
			torque: triple("torque", "Roll, pitch, yaw in body axes"),
			duration: lasting,
		}),
		section({
			kind: z.literal("force"),
			at,
			force: triple("force", "North, east, down, at the centre of mass"),
			duration: lasting,
		}),
		section({ kind: z.literal("stall"), at, duration: lasting }),
		section({
			kind: z.literal("takeUp"),
			at,
			mass: q("mass").optional(),
			position: triple("length", "Forward, right, down from the reference point").optional(),
			held: words("By the limb's grip (where left out, with a limb that holds the load), or fixed", [
				"grip",
				"frame",
			]).optional(),
			from: words("Where it is before: free and at rest (where left out), or standing on the ground below", [
				"rest",
				"ground",
			]).optional(),
		}),
		section({
			kind: z.literal("limb"),
			at,
			link: nameText,
			angle: q("angle", { atLeast: -7, atMost: 7 }, "From folded").optional(),
			over: q("time", { above: 0, atMost: 60 }, "Evenly in so long; left out: as fast as it goes").optional(),
			profile: list(
				z.tuple([q("time", { atLeast: 0, atMost: 60 }), q("angle", { atLeast: -7, atMost: 7 })], {
					error: "[time from the event, angle from folded]",
				}),
				"In place of an angle: the motion as measured, followed exactly, from [0, where the link stands]",
				2,
				2000,
			).optional(),
		}),
		section({
			kind: z.literal("stuckGrip"),
			at,
			duration: lasting,
			stiffness: q("springRate", {}, "Of what holds it to the ground").optional(),
			damping: q("springDamping", {}, "Of what holds it to the ground").optional(),
		}),
		section({
			kind: z.literal("letGo"),
			at,
			unnoticed: yesNo("The firmware goes on as if it still carried it").optional(),
		}),
		section({ kind: z.literal("makeLive"), at }),
		section({ kind: z.literal("makeSafe"), at }),
		section({
			kind: z.literal("stuckFoot"),
			at,
			foot: whole("In the craft's order, from 0", 0, 7),
			hold: q("force", {}, "Pulled harder, it comes free"),
		}),
		section({ kind: z.literal("frozen"), at, sensor, duration: lasting }),
		section({
			kind: z.literal("glitch"),
			at,
			sensor: z.literal("gyro"),
			axis,
			rate: q("turnRate", { atLeast: -100, atMost: 100 }, "Added to what the gyro says"),
			duration: lasting,
		}),
		section({
			kind: z.literal("attitudeGlitch"),
			at,
			axis,
			angle: q("angle", { atLeast: -3, atMost: 3 }, "Added to what the attitude sensor says"),
			duration: lasting,
		}),
		section({
			kind: z.literal("looseLoop"),
			at,
			jitter: q("time", { atMost: 0.1 }, "Ticks come so much late or early").optional(),
			skipChance: q("fraction", {}, "Of a tick").optional(),
			duration: lasting,
		}),
		section({ kind: z.literal("framesLost"), at, duration: lasting }),
		section({ kind: z.literal("servoLoad"), at, power: q("power"), duration: lasting }),
	],
	{
		error:
			'an event with "kind": "angle", "rate", "stick", "throttle", "height", "leaveThrottle", "torque", "force", "stall", "takeUp", "limb", "stuckGrip", "letGo", "makeLive", "makeSafe", "stuckFoot", "frozen", "glitch", "attitudeGlitch", "looseLoop", "framesLost" or "servoLoad"',
	},
);

const wind = section({
	mean: triple("speed", "Of the air, towards north, east, down").optional(),
	roughness: q(
		"length",
		{ above: 0, atMost: 3 },
		"Of the ground: wind grows with height by the log law",
	).optional(),
	gusts: list(
		section({
			at,
			velocity: triple("speed", "Peak, towards north, east, down"),
			rise: lasting,
			ending: words("After the peak", ["returns", "holds"]).optional(),
		}),
		"1-cosine gusts",
		0,
		20,
	).optional(),
	turbulence: z
		.union(
			[
				z.enum(["light", "moderate", "severe"]),
				section({ windAt20Ft: q("speed", { above: 0 }, "Mean wind at 20 ft that sets the strength") }),
			],
			{ error: '"light", "moderate", "severe" or {"windAt20Ft": "6 m/s"}' },
		)
		.optional(),
});

const start = q("angle", { atLeast: -1.4, atMost: 1.4 }, "Turned so far about the axis at the start");

const rig = z.discriminatedUnion(
	"kind",
	[
		section({
			kind: z.literal("pivot"),
			axis,
			through: triple("length", "A point of the axis: forward, right, down from the reference point"),
			addedInertia: q("inertia", { atLeast: 0 }, "Of what turns with the craft, about the axis").optional(),
			friction: q("turnFriction", {}, "Torque over turn rate").optional(),
			startAngle: start.optional(),
			stopAngle: q("angle", { above: 0, atMost: 3.1 }, "Where it strikes an end on either side").optional(),
		}),
		section({
			kind: z.literal("strings"),
			axis: words("The axis that is judged on it", ["roll", "pitch", "yaw"]),
			strings: list(
				section({
					body: triple("length", "Where it is tied: forward, right, down from the reference point"),
					length: q("length", { above: 0, atMost: 20 }, "Unstretched"),
				}),
				"Each to a fixed point straight above",
				1,
				8,
			),
			stiffness: q("springRate", {}, "Of one string: force over stretch").optional(),
			damping: q("springDamping", {}, "Of one string: force over how fast it stretches").optional(),
			startAngle: start.optional(),
		}),
	],
	{ error: 'a rig with "kind": "pivot" or "strings"' },
);

export const drillSchema = section({
	name: nameText,
	about: freeText.optional(),
	duration: q("time", { above: 0, atMost: 600 }),
	height: q("length", { atLeast: 0, atMost: 100 }, "Of the feet above ground at the start").optional(),
	start: words("In the air, trimmed, or at rest on its feet with motors safe", [
		"hover",
		"ground",
	]).optional(),
	ground: section({
		slope: q("angle", { atLeast: 0, atMost: 1 }).optional(),
		downhill: q("angle", { atLeast: -7, atMost: 7 }, "Heading towards which it falls, 0 north").optional(),
		sink: q("length", { atLeast: 2e-4, atMost: 0.1 }, "How deep the resting craft sinks in").optional(),
		dampingRatio: plain("Of the bounce, 1 none", { atLeast: 0.05, atMost: 2 }).optional(),
		friction: plain("Coefficient", { atLeast: 0, atMost: 3 }).optional(),
		crashSpeed: q("speed", { above: 0 }, "A foot that arrives faster breaks").optional(),
	}).optional(),
	rig: rig.optional(),
	seed: whole("Of the random numbers", 0, 4294967295).optional(),
	events: list(event, "What happens").optional(),
	wind: wind.optional(),
});

export type DrillInput = z.output<typeof drillSchema>;
