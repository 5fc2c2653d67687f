import { z } from "zod";
import { HIGHEST_ALTITUDE } from "../craft/air.ts";
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

const positive = { above: 0 };
const spin = words("Seen from above", ["clockwise", "counter-clockwise"]);
const length = (about: string) => q("length", positive, about);
const spot = triple("length", "Forward, right, down from the reference point");

const inertia = z
	.array(q("inertia"), { error: "[xx, yy, zz] or [xx, yy, zz, xy, xz, yz]" })
	.refine((entries) => entries.length === 3 || entries.length === 6, {
		error: "[xx, yy, zz] or [xx, yy, zz, xy, xz, yz]",
	})
	.meta({ description: "Tensor about the centre of mass, body axes: [xx, yy, zz] or with xy, xz, yz" });

const partPlace = {
	name: nameText,
	mass: q("mass", {}, "Of one"),
	position: spot.optional(),
	orientation: triple("angle", "Roll, pitch, yaw of the part's own axes").optional(),
	at: list(spot, "Places where one each of this part stands", 1).optional(),
};

const part = z.discriminatedUnion(
	"shape",
	[
		section({ shape: z.literal("point"), ...partPlace }),
		section({
			shape: z.literal("box"),
			size: triple("length", "Edges along its own x, y, z", positive),
			...partPlace,
		}),
		section({
			shape: z.literal("cylinder"),
			diameter: length("Axis along its own z"),
			length: length("Along its axis"),
			...partPlace,
		}),
		section({ shape: z.literal("rod"), length: length("Along its own x"), ...partPlace }),
		section({
			shape: z.literal("tube"),
			outerDiameter: length("Axis along its own x"),
			innerDiameter: q("length", { atLeast: 0 }, "Axis along its own x"),
			length: length("Along its axis"),
			...partPlace,
		}),
	],
	{ error: 'a part with "shape": "point", "box", "cylinder", "rod" or "tube"' },
);

const rotor = section({
	place: nameText,
	motor: whole("The builder's own number for this motor", 0, 99).optional(),
	position: spot,
	spin,
	tiltForward: q("angle", { atLeast: -1, atMost: 1 }, "Of the thrust, from straight up").optional(),
	tiltRight: q("angle", { atLeast: -1, atMost: 1 }, "Of the thrust, from straight up").optional(),
	speedFactor: plain("This motor's speed over the usual one", { atLeast: 0.5, atMost: 1.5 }).optional(),
});

const period = (about: string) => q("period", {}, about);
const phase = z
	.union([z.literal("free"), q("time", { atMost: 1 })], {
		error: 'a time such as "300 us", or "free" where it is unknown',
	})
	.meta({ description: "After the loop's tick; free: the worst is taken" });
const clock = { period: period("Of this clock").optional(), phase: phase.optional() };

const timing = section(
	{
		loop: period("The control loop's period or rate").optional(),
		jitter: q("time", { atMost: 0.5 }, "Plus or minus about the regular tick").optional(),
		skipChance: q("fraction", { atMost: 0.9 }, "Chance that a tick is skipped").optional(),
		compute: q("time", { atMost: 0.5 }, "From the start of a tick to its commands being ready").optional(),
		gyro: section({
			...clock,
			bus: q("time", { atMost: 0.5 }, "From sample to arrival").optional(),
		}).optional(),
		attitude: z
			.discriminatedUnion(
				"source",
				[
					section({ source: z.literal("loop") }),
					section({
						source: z.literal("fused"),
						...clock,
						latency: q("time", { atMost: 0.5 }, "From motion to arrival").optional(),
					}),
				],
				{ error: 'an attitude with "source": "loop" or "fused"' },
			)
			.optional(),
		frame: section(clock, "When speed controllers take a new command").optional(),
		pulse: z
			.discriminatedUnion(
				"kind",
				[
					section({
						kind: z.literal("width"),
						shortest: q("time", { above: 0, atMost: 0.01 }).optional(),
						longest: q("time", { above: 0, atMost: 0.01 }).optional(),
						resolution: q("time", { above: 0, atMost: 1e-4 }).optional(),
					}),
					section({
						kind: z.literal("digital"),
						transport: q("time", { atMost: 0.01 }).optional(),
						steps: whole("Steps from 0 to full command", 16, 65536).optional(),
					}),
				],
				{ error: 'a pulse with "kind": "width" or "digital"' },
			)
			.optional(),
		receiver: section(clock).optional(),
	},
	"The chain from tilt to thrust",
);

const stick = section({
	low: q("time", { atLeast: 1e-4, atMost: 0.01 }).optional(),
	centre: q("time", { atLeast: 1e-4, atMost: 0.01 }).optional(),
	high: q("time", { atLeast: 1e-4, atMost: 0.01 }).optional(),
	reverse: yesNo("Whether the reading falls as the stick moves up or right").optional(),
	deadBand: q("fraction", { atMost: 0.5 }, "Either side of centre").optional(),
	centreSoftness: q("fraction", {}, "0 straight, 1 soft about the centre").optional(),
});

const noneOr = (schema: ReturnType<typeof q>, expected: string) =>
	z.union([z.literal("none"), schema], { error: `${expected}, or "none"` });

const spread = (about: string) =>
	z
		.union(
			[
				q("fraction", { atMost: 0.9 }, "A plus/minus bound"),
				section({ plusMinus: q("fraction", { atMost: 0.9 }, "A bound") }),
				section({ standardDeviation: q("fraction", { atMost: 0.45 }, "One standard deviation") }),
			],
			{ error: 'a share such as "10 %", {"plusMinus": "10 %"} or {"standardDeviation": "5 %"}' },
		)
		.meta({
			description: `${about}: a plus/minus bound, or one standard deviation; a worst case then stands at two of them`,
		});

const servo = section({
	speed: q("turnRate", positive, "Fastest").optional(),
	torque: q("torque", positive, "Most that it gives").optional(),
	frequency: q("frequency", { above: 0, atMost: 100 }, "Natural, of its small corrections").optional(),
	damping: plain("Damping ratio of its small corrections", { atLeast: 0.1, atMost: 5 }).optional(),
	stiffness: q("turnStiffness", positive, "Between servo and link; left out: stiff").optional(),
	play: q(
		"angle",
		{ atLeast: 0, atMost: 1 },
		"Whole play between servo and link; needs a stiffness",
	).optional(),
	jitter: q("angle", { atLeast: 0, atMost: 0.5 }, "Amplitude of its hunting").optional(),
	jitterFrequency: q("frequency", { above: 0, atMost: 100 }).optional(),
	stallCurrent: q("current", {}, "At its full torque").optional(),
});

const link = section({
	name: nameText,
	hinge: spot,
	axis: z
		.union([z.enum(["roll", "pitch", "yaw"]), z.tuple([plain("x"), plain("y"), plain("z")])], {
			error: '"roll", "pitch", "yaw" or a direction such as [0, 1, 0]',
		})
		.meta({
			description: "What it turns about; positive angles turn right-handed: pitch raises what points forward",
		}),
	tip: triple("length", "The far end: forward, right, down from the reference point"),
	diameter: length("Thickness").optional(),
	parts: list(nameText, "Names of entries of craft.parts that move with it", 1).optional(),
	mass: q("mass", {}, "Where the craft has no parts list").optional(),
	centreOfMass: spot.optional(),
	inertia: inertia.optional(),
	travel: z
		.tuple([q("angle", { atLeast: -7, atMost: 0 }), q("angle", { atLeast: 0, atMost: 7 })], {
			error: "two angles from folded: [least, most]",
		})
		.optional(),
	servo: servo.optional(),
});

const limb = section(
	{
		links: list(link, "From the airframe outwards", 1, 4),
		grip: triple("length", "Where a load is held, limb folded; left out: the last tip").optional(),
		gripRadius: length("Room about the grip that must stay clear of propellers").optional(),
	},
	"A reach arm, described folded: every hinge at 0, places in body axes from the reference point",
);

export const craftSchema = section(
	{
		name: nameText.optional(),
		invented: yesNo("True for a craft that no one built").optional(),
		note: freeText.optional(),
		mass: q("mass", {}, "Ready to fly, battery in, no load").optional(),
		centreOfMass: triple("length", "Forward, right, down from the reference point").optional(),
		inertia: inertia.optional(),
		parts: list(part, "What it is made of", 1).optional(),
		wheelbase: length("From hub to hub across the centre").optional(),
		layout: words("Where the rotors are", ["X", "plus", "hex", "hex plus", "octo", "octo plus"]).optional(),
		frontRightSpin: spin.optional(),
		motorNumbers: list(
			whole("Motor number", 0, 99),
			"The builder's own motor numbers, clockwise from the front right (front in plus layouts)",
			4,
			8,
		).optional(),
		rotorHeight: q("length", {}, "Of the propellers above the reference point").optional(),
		rotors: list(rotor, "In place of layout and wheelbase", 4, 8).optional(),
		propeller: section({
			diameter: q("length", { above: 0, atMost: 3 }, "Tip to tip"),
			mass: q("mass").optional(),
			blades: whole("Blades", 1, 8).optional(),
			chord: length("Mean blade width").optional(),
			thrustNumber: plain("CT in T = CT rho n^2 D^4", { above: 0, atMost: 1 }).optional(),
			powerNumber: plain("CP in P = CP rho n^3 D^5", { above: 0, atMost: 1 }).optional(),
		}).optional(),
		motors: section({
			maxThrust: q("force", positive, "Of ONE motor at full command").optional(),
			maxSpeed: q("rotorSpeed", positive, "At full command").optional(),
			thrustCoefficient: q("thrustCoefficient").optional(),
			torqueCoefficient: q("torqueCoefficient").optional(),
			inflowCoefficient: q("inflowCoefficient").optional(),
			inPlaneDragCoefficient: q("inflowCoefficient").optional(),
			rotorInertia: q("inertia", positive, "Propeller and bell about the shaft").optional(),
			bellMass: q("mass").optional(),
			bellDiameter: length("Of the turning half of the motor").optional(),
			startCommand: q("fraction", {}, "Below it the motor stands").optional(),
			startSpeed: q("rotorSpeed", positive).optional(),
			lag: q("time", { above: 0, atMost: 5 }, "To 63 % of a step, speeding up").optional(),
			lagUp: q("time", { above: 0, atMost: 5 }, "To 63 % of a step, speeding up").optional(),
			lagDown: q("time", { above: 0, atMost: 5 }, "To 63 % of a step, slowing down").optional(),
			measuredDensity: q("density").optional(),
			measuredVoltage: q("voltage", {}, "That thrust and speeds were measured at").optional(),
			bench: list(
				section({
					command: q("fraction"),
					thrust: q("force", { atLeast: 0 }),
					speed: q("rotorSpeed").optional(),
					torque: q("torque", { atLeast: 0 }, "Drag torque; makes the torque coefficient").optional(),
					voltage: q("voltage", {}, "Under load").optional(),
					current: q("current", {}, "Of ONE motor; with voltage it makes the efficiency").optional(),
				}),
				"A bench table, by rising command",
				2,
			).optional(),
		}).optional(),
		battery: section({
			cells: whole("In series", 1, 30).optional(),
			capacity: q("charge").optional(),
			resistance: q("resistance").optional(),
			efficiency: q("fraction", positive, "Shaft power over battery power").optional(),
			electronicsPower: q("power").optional(),
			brownOut: q("voltage", {}, "Of the whole battery").optional(),
			full: q("fraction").optional(),
			nominal: q("fraction").optional(),
			nearlyEmpty: q("fraction").optional(),
			openCircuit: list(
				section({ charge: q("fraction"), cellVoltage: q("voltage", { above: 0, atMost: 10 }) }),
				"Cell voltage at rest by rising state of charge",
				2,
			).optional(),
		}).optional(),
		air: section({
			density: q("density").optional(),
			altitude: q("length", { atLeast: -1000, atMost: HIGHEST_ALTITUDE }).optional(),
			temperature: q("temperature").optional(),
		}).optional(),
		airframe: section({
			dragArea: triple("area", "Forward, sideways, up: drag coefficient times area").optional(),
			centreOfPressure: spot.optional(),
			groundEffect: yesNo("Whether ground effect is applied").optional(),
			feetBelow: q("length", {}, "From the reference point down to the feet").optional(),
			feet: list(
				triple("length", "Forward, right, down from the reference point"),
				"Where it touches the ground",
				3,
				8,
			).optional(),
			span: length("Tip to tip, for turbulence").optional(),
		}).optional(),
		load: section({
			mass: q("mass", { above: undefined, atLeast: 0 }, "The heaviest load"),
			position: spot.optional(),
			size: length("Edge of the cube it is taken for").optional(),
			inertia: inertia.optional(),
			gripOffset: triple("length", "From the limb's grip to its middle, limb folded").optional(),
			tether: section({
				length: length("From where it is held to its middle"),
				damping: q("fraction", {}, "Damping ratio of its swing").optional(),
			}).optional(),
			liquid: section(
				{
					diameter: length("Of the round tank").optional(),
					depth: length("Of the liquid in it").optional(),
					share: q("fraction", positive, "Of the load that sloshes, in place of the tank").optional(),
					pendulum: length("Of the pendulum it sloshes as, in place of the tank").optional(),
					damping: q("fraction", {}, "Damping ratio of its slosh").optional(),
				},
				"A load that sloshes",
			).optional(),
		}).optional(),
		limb: limb.optional(),
		timing: timing.optional(),
		sensors: section({
			gyroLowPass: noneOr(q("frequency"), 'a frequency such as "98 Hz"').optional(),
			gyroNoise: q("noiseDensity").optional(),
			gyroBias: triple("turnRate", "Roll, pitch, yaw").optional(),
			vibration: q("turnRate", { atLeast: 0 }, "Amplitude per rotor at hover").optional(),
			gyroResolution: q("turnRate", { atLeast: 0 }).optional(),
			levelOffset: z
				.tuple([q("angle", { atLeast: -1, atMost: 1 }), q("angle", { atLeast: -1, atMost: 1 })], {
					error: "two angles: [roll, pitch]",
				})
				.optional(),
			attitudeNoise: q("angle", { atLeast: 0 }).optional(),
			estimatorTimeConstant: noneOr(q("time", positive), 'a time such as "1 s"').optional(),
		}).optional(),
		mixer: section({
			table: list(
				z.tuple(
					[
						plain("Roll", { atLeast: -10, atMost: 10 }),
						plain("Pitch", { atLeast: -10, atMost: 10 }),
						plain("Yaw", { atLeast: -10, atMost: 10 }),
					],
					{ error: "three numbers: [roll, pitch, yaw]" },
				),
				"One row per rotor",
				4,
				8,
			).optional(),
			batteryCompensation: yesNo("Whether commands rise as the battery sags").optional(),
			thrustLinearisation: q("fraction").optional(),
			lowestSpin: q("fraction", { atMost: 0.9 }).optional(),
			throttleRiseCap: q("fraction").optional(),
		}).optional(),
		sticks: section({
			roll: stick.optional(),
			pitch: stick.optional(),
			yaw: stick.optional(),
			throttle: stick.optional(),
			fullTilt: q("angle", { above: 0, atMost: 1.5 }).optional(),
			fullTurnRate: q("turnRate", positive).optional(),
			fullTiltRate: q("turnRate", positive).optional(),
		}).optional(),
		supply: section({
			output: q("voltage", {}, "Of the regulator that feeds the electronics").optional(),
			dropout: q(
				"voltage",
				{ above: undefined, atLeast: 0 },
				"Least battery voltage above the output",
			).optional(),
			limit: q("current", { above: 0 }, "Most that it gives").optional(),
			brownOut: q("voltage", {}, "At its output: below it the controller restarts").optional(),
		}).optional(),
		safety: section({
			signalLostAfter: q("time", { above: 0, atMost: 60 }, "Without a receiver frame").optional(),
			onSignalLoss: z
				.union([z.enum(["keep", "makeSafe"]), section({ throttle: q("fraction") })], {
					error:
						'"keep" (flies on with the last sticks), "makeSafe" (motors off) or {"throttle": "35 %"} (level, at that throttle)',
				})
				.optional(),
			liveBelowThrottle: q("fraction", {}, "Motors are made live only below this throttle").optional(),
			liveBelowTilt: q("angle", { above: 0, atMost: 1.6 }, "And only below this tilt").optional(),
		}).optional(),
		uncertainty: section({
			inertia: spread("Of the inertia").optional(),
			thrust: spread("Of the thrust at a command").optional(),
			motorLag: spread("Of both motor lags").optional(),
		}).optional(),
	},
	"What was built",
);
