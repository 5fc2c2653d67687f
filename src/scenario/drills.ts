import type { Craft } from "../craft/model.ts";
import { COMMON, type Notes } from "../craft/notes.ts";
import type { Drill, DrillEvent, GroundSpec, TurbulenceSpec, WindSpec } from "../flight/drill.ts";
import { LEVEL_GROUND, STILL_AIR } from "../flight/drill.ts";
import type { DrillInput } from "./drill-schema.ts";
import { resolveRig, standardPivot, standardStrings } from "./rigs.ts";

const DEG = Math.PI / 180;
const KNOT = 1852 / 3600;
/** Wind at 20 ft by strength: 15, 30, 45 knots (MIL-F-8785C). */
const STRENGTH = { light: 15 * KNOT, moderate: 30 * KNOT, severe: 45 * KNOT };

type EventInput = NonNullable<DrillInput["events"]>[number];

/** Drills of the file; where it has none, a plain set of them. */
export function resolveDrills(
	drills: readonly DrillInput[] | undefined,
	craft: Craft,
	notes: Notes,
): Drill[] {
	if (drills === undefined) {
		const standard = standardDrills(craft);
		return notes.assumeWord(undefined, standard, {
			path: "drills",
			value: standard.map((drill) => drill.name).join(", "),
			because: "no drills were given",
			source: COMMON,
			measure: "write your own drills",
		});
	}
	const seen = new Set<string>();
	return drills.map((drill, i) => {
		if (seen.has(drill.name))
			notes.problem(`drills[${i}].name`, drill.name, "a name that no other drill has");
		seen.add(drill.name);
		return resolveDrill(drill, `drills[${i}]`, craft, notes);
	});
}

function resolveDrill(drill: DrillInput, path: string, craft: Craft, notes: Notes): Drill {
	drill.events?.forEach((event, i) => {
		if (event.at > drill.duration)
			notes.problem(`${path}.events[${i}].at`, event.at, `a time within the drill's ${drill.duration} s`);
	});
	drill.wind?.gusts?.forEach((gust, i) => {
		if (gust.at > drill.duration)
			notes.problem(`${path}.wind.gusts[${i}].at`, gust.at, `a time within the drill's ${drill.duration} s`);
	});
	const start = drill.start ?? "hover";
	if (drill.rig && (start === "ground" || drill.ground))
		notes.problem(
			`${path}.rig`,
			drill.rig.kind,
			"a drill that neither starts on the ground nor describes it",
		);
	const startAngle = drill.rig?.startAngle ?? 0;
	if (drill.rig?.kind === "pivot" && Math.abs(startAngle) > (drill.rig.stopAngle ?? Number.POSITIVE_INFINITY))
		notes.problem(`${path}.rig.startAngle`, startAngle, "an angle between the stops");
	const given = (drill.events ?? []).map((event, i) => {
		if (event.kind === "stuckFoot" && event.foot >= craft.airframe.feetM.length)
			notes.problem(
				`${path}.events[${i}].foot`,
				event.foot,
				`one of the craft's feet, 0 to ${craft.airframe.feetM.length - 1}`,
			);
		return { event, path: `${path}.events[${i}]` };
	});
	given.sort((a, b) => a.event.at - b.event.at);
	const throttle = { throttle: 0, ofHover: start === "ground" ? 0 : 1 };
	const events = given.flatMap(({ event, path: at }) =>
		event.kind === "throttle" ? raise(event, throttle) : [resolveEvent(event, at, craft, notes)],
	);
	return {
		name: drill.name,
		about: drill.about ?? "",
		durationSec: drill.duration,
		heightM: drill.height ?? 10,
		seed: drill.seed ?? 1,
		events: events.sort((a, b) => a.atSec - b.atSec),
		wind: resolveWind(drill.wind),
		...(start === "ground" ? { start } : {}),
		...(drill.ground ? { ground: resolveGround(drill.ground) } : {}),
		...(drill.rig ? { rig: resolveRig(drill.rig) } : {}),
	};
}

const RAMP_STEP_SEC = 0.01;

/** A throttle at once, or raised evenly in steps of 10 ms from what it was before. `now` is what it becomes. */
function raise(
	{ at, throttle, over }: Extract<EventInput, { kind: "throttle" }>,
	now: { throttle: number; ofHover: number },
): DrillEvent[] {
	const to =
		typeof throttle === "number" ? { throttle, ofHover: 0 } : { throttle: 0, ofHover: throttle.ofHover };
	const from = { ...now };
	Object.assign(now, to);
	const steps = Math.max(1, Math.round((over ?? 0) / RAMP_STEP_SEC));
	return Array.from({ length: steps }, (_, i): DrillEvent => {
		const share = (i + 1) / steps;
		const mixed = (a: number, b: number): number => a + share * (b - a);
		const ofHover = mixed(from.ofHover, to.ofHover);
		return {
			atSec: at + share * (over ?? 0),
			kind: "throttle",
			throttle: mixed(from.throttle, to.throttle),
			...(ofHover === 0 ? {} : { ofHover }),
		};
	});
}

function resolveGround(given: NonNullable<DrillInput["ground"]>): GroundSpec {
	return {
		slopeRad: given.slope ?? LEVEL_GROUND.slopeRad,
		downhillHeadingRad: given.downhill ?? LEVEL_GROUND.downhillHeadingRad,
		sinkM: given.sink ?? LEVEL_GROUND.sinkM,
		dampingRatio: given.dampingRatio ?? LEVEL_GROUND.dampingRatio,
		friction: given.friction ?? LEVEL_GROUND.friction,
		crashMPerSec: given.crashSpeed ?? LEVEL_GROUND.crashMPerSec,
	};
}

function resolveEvent(
	event: Exclude<EventInput, { kind: "throttle" }>,
	path: string,
	craft: Craft,
	notes: Notes,
): DrillEvent {
	const atSec = event.at;
	switch (event.kind) {
		case "angle":
			return { atSec, kind: "angle", axis: event.axis, angleRad: event.angle };
		case "rate":
			return { atSec, kind: "rate", axis: event.axis, rateRadPerSec: event.rate };
		case "stick":
			return { atSec, kind: "stick", axis: event.axis, readingUs: Math.round(event.reading * 1e6) };
		case "torque":
			return { atSec, kind: "torque", torqueNm: event.torque, durationSec: event.duration };
		case "force":
			return { atSec, kind: "force", forceN: event.force, durationSec: event.duration };
		case "stall":
			return { atSec, kind: "stall", durationSec: event.duration };
		case "height":
			return { atSec, kind: "height", heightM: event.height, by: event.by };
		case "letGo":
		case "leaveThrottle":
		case "makeLive":
		case "makeSafe":
			return { atSec, kind: event.kind };
		case "stuckFoot":
			return { atSec, kind: "stuckFoot", foot: event.foot, holdN: event.hold };
		case "frozen":
			return { atSec, kind: "frozen", sensor: event.sensor, durationSec: event.duration };
		case "glitch":
			return {
				atSec,
				kind: "glitch",
				sensor: "gyro",
				axis: event.axis,
				size: event.rate,
				durationSec: event.duration,
			};
		case "attitudeGlitch":
			return {
				atSec,
				kind: "glitch",
				sensor: "attitude",
				axis: event.axis,
				size: event.angle,
				durationSec: event.duration,
			};
		case "looseLoop":
			return {
				atSec,
				kind: "looseLoop",
				jitterUs: Math.round((event.jitter ?? 0) * 1e6),
				skipChance: event.skipChance ?? 0,
				durationSec: event.duration,
			};
		case "framesLost":
			return { atSec, kind: "framesLost", durationSec: event.duration };
		case "servoLoad":
			return { atSec, kind: "servoLoad", powerW: event.power, durationSec: event.duration };
		case "takeUp": {
			const massKg = event.mass ?? craft.load.massKg;
			if (!(massKg > 0))
				notes.problem(`${path}.mass`, event.mass, 'a mass such as "200 g", since the craft has no load');
			return { atSec, kind: "takeUp", massKg, positionM: event.position ?? craft.load.positionM };
		}
	}
}

function resolveWind(wind: DrillInput["wind"]): WindSpec {
	if (wind === undefined) return STILL_AIR;
	return {
		meanMPerSec: wind.mean ?? [0, 0, 0],
		roughnessM: wind.roughness ?? null,
		gusts: (wind.gusts ?? []).map((gust) => ({
			atSec: gust.at,
			velocityMPerSec: gust.velocity,
			riseSec: gust.rise,
			ending: gust.ending ?? "returns",
		})),
		turbulence: turbulence(wind.turbulence),
	};
}

function turbulence(given: NonNullable<DrillInput["wind"]>["turbulence"]): TurbulenceSpec | null {
	if (given === undefined) return null;
	return { windAt20FtMPerSec: typeof given === "string" ? STRENGTH[given] : given.windAt20Ft };
}

/** Flights that any craft can be asked to do. */
function standardDrills(craft: Craft): Drill[] {
	const drill = (name: string, about: string, durationSec: number, change: Partial<Drill>): Drill => ({
		name,
		about,
		durationSec,
		heightM: 10,
		seed: 1,
		events: [],
		wind: STILL_AIR,
		...change,
	});
	const kick = 0.1 * craft.bare.inertiaKgM2[0] * 60;
	const liftOff = (name: string, about: string, change: Partial<Drill>): Drill => ({
		...drill(name, about, 5, { heightM: 0, start: "ground", ...change }),
		events: [
			{ atSec: 0.2, kind: "makeLive" as const },
			...raise(
				{ at: 1.2, kind: "throttle", throttle: { ofHover: 1.15 }, over: 1 },
				{ throttle: 0, ofHover: 0 },
			),
			...(change.events ?? []),
		].sort((a, b) => a.atSec - b.atSec),
	});
	const slope = { ...LEVEL_GROUND, slopeRad: 5 * DEG, downhillHeadingRad: Math.PI / 2 };
	const weightN = craft.bare.massKg * 9.80665;
	return [
		drill("roll step", "Roll 10 deg at once: overshoot and settling.", 3, {
			events: [{ atSec: 0.5, kind: "angle", axis: "roll", angleRad: 10 * DEG }],
		}),
		drill("pitch step", "Pitch 10 deg at once: overshoot and settling.", 3, {
			events: [{ atSec: 0.5, kind: "angle", axis: "pitch", angleRad: 10 * DEG }],
		}),
		drill("yaw rate step", "Turn at 45 deg/s: yaw's authority.", 3, {
			events: [{ atSec: 0.5, kind: "rate", axis: "yaw", rateRadPerSec: 45 * DEG }],
		}),
		drill("side gust", "A gust of 6 m/s from the left.", 5, {
			wind: {
				...STILL_AIR,
				gusts: [{ atSec: 0.5, velocityMPerSec: [0, 6, 0], riseSec: 0.5, ending: "returns" }],
			},
		}),
		drill("torque kick", "A short push on one side: how it catches itself.", 3, {
			events: [{ atSec: 0.5, kind: "torque", torqueNm: [kick, 0, 0], durationSec: 0.05 }],
		}),
		drill("loop stall", "The loop stops for 100 ms during a roll step.", 3, {
			events: [
				{ atSec: 0.5, kind: "angle", axis: "roll", angleRad: 10 * DEG },
				{ atSec: 0.6, kind: "stall", durationSec: 0.1 },
			],
		}),
		drill("hold in turbulence", "Level in light turbulence for 10 s.", 10, {
			wind: { ...STILL_AIR, turbulence: { windAt20FtMPerSec: STRENGTH.light } },
		}),
		liftOff(
			"lift-off",
			"From level ground: 1 s at lowest spin, throttle raised over 1 s to 1.15 of hover.",
			{},
		),
		liftOff("lift-off on a slope", "From ground that falls 5 deg to the right.", { ground: slope }),
		{
			...drill(
				"lift-off after a wait on a slope",
				"Ten seconds at half of hover throttle on ground that falls 5 deg to the right: what an integral that runs on the ground does then.",
				15,
				{ heightM: 0, start: "ground", ground: slope },
			),
			events: [
				{ atSec: 0.2, kind: "makeLive" },
				...raise({ at: 0.3, kind: "throttle", throttle: { ofHover: 0.5 } }, { throttle: 0, ofHover: 0 }),
				...raise(
					{ at: 10, kind: "throttle", throttle: { ofHover: 1.15 }, over: 2 },
					{ throttle: 0, ofHover: 0.5 },
				),
			],
		},
		liftOff("lift-off in a gust", "A gust of 6 m/s from the left while it lifts.", {
			wind: {
				...STILL_AIR,
				gusts: [{ atSec: 1.8, velocityMPerSec: [0, 6, 0], riseSec: 0.5, ending: "returns" }],
			},
		}),
		liftOff("lift-off with a foot stuck", "One foot held with a fifth of the weight.", {
			events: [{ atSec: 0.1, kind: "stuckFoot", foot: 0, holdN: 0.2 * weightN }],
		}),
		drill("climb by hand", "A person at the throttle goes from 2 m to 3 m and keeps it.", 12, {
			heightM: 2,
			events: [
				{ atSec: 0, kind: "height", heightM: 2, by: "pilot" },
				{ atSec: 2, kind: "height", heightM: 3, by: "pilot" },
			],
		}),
		drill("hover by hand", "A person at the throttle keeps 2 m in light turbulence for 20 s.", 20, {
			heightM: 2,
			events: [{ atSec: 0, kind: "height", heightM: 2, by: "pilot" }],
			wind: { ...STILL_AIR, turbulence: { windAt20FtMPerSec: STRENGTH.light } },
		}),
		{
			...drill("lift-off by hand", "A person lifts it from level ground to 1 m and keeps it there.", 12, {
				heightM: 0,
				start: "ground",
			}),
			events: [
				{ atSec: 0.2, kind: "makeLive" },
				{ atSec: 1.2, kind: "height", heightM: 1, by: "pilot" },
			],
		},
		drill("gyro freezes", "The gyro says the same for 150 ms in the middle of a roll step.", 3, {
			events: [
				{ atSec: 0.5, kind: "angle", axis: "roll", angleRad: 10 * DEG },
				{ atSec: 0.6, kind: "frozen", sensor: "gyro", durationSec: 0.15 },
			],
		}),
		drill("loose loop", "For a second a third of the ticks do not happen and the others jitter.", 3, {
			events: [
				{ atSec: 0.5, kind: "angle", axis: "roll", angleRad: 10 * DEG },
				{ atSec: 0.5, kind: "looseLoop", jitterUs: 500, skipChance: 0.3, durationSec: 1 },
			],
		}),
		drill(
			"sticks lost",
			"No receiver frame for 3 s, leaning 8 deg with a little more than hover throttle.",
			6,
			{
				heightM: 30,
				events: [
					{ atSec: 0.3, kind: "angle", axis: "roll", angleRad: 8 * DEG },
					{ atSec: 0.3, kind: "throttle", throttle: 0, ofHover: 1.03 },
					{ atSec: 1, kind: "framesLost", durationSec: 3 },
					{ atSec: 1.2, kind: "angle", axis: "roll", angleRad: 0 },
				],
			},
		),
		{
			...drill(
				"made live with throttle up",
				"On the ground, throttle stick at 0.8 of hover, motors made live.",
				3,
				{
					heightM: 0,
					start: "ground",
				},
			),
			events: [
				{ atSec: 0.2, kind: "throttle", throttle: 0, ofHover: 0.8 },
				{ atSec: 0.5, kind: "makeLive" },
			],
		},
		{
			...drill(
				"made live while tilted",
				"On ground that falls 12 deg, made live, throttle raised over a second to 1.15 of hover.",
				4,
				{
					heightM: 0,
					start: "ground",
					ground: { ...LEVEL_GROUND, slopeRad: 12 * DEG, downhillHeadingRad: Math.PI / 2 },
				},
			),
			events: [
				{ atSec: 0.5, kind: "makeLive" },
				...raise(
					{ at: 1, kind: "throttle", throttle: { ofHover: 1.15 }, over: 1 },
					{ throttle: 0, ofHover: 0 },
				),
			],
		},
		drill(
			"roll pivot",
			"Roll 10 deg on a bar a tenth of the span above the middle: a rig that misleads.",
			4,
			{
				rig: standardPivot(craft),
				events: [{ atSec: 0.5, kind: "angle", axis: "roll", angleRad: 10 * DEG }],
			},
		),
		drill(
			"string rig",
			"Roll 10 deg hung by nose and tail, at 0.8 of hover throttle: the strings mislead.",
			6,
			{
				rig: standardStrings(craft),
				events: [
					{ atSec: 0, kind: "throttle", throttle: 0, ofHover: 0.8 },
					{ atSec: 2, kind: "angle", axis: "roll", angleRad: 10 * DEG },
				],
			},
		),
		drill(
			"punch to full throttle",
			"Full throttle for 1.5 s; choose a nearly empty battery to see it sag.",
			4,
			{
				events: [
					{ atSec: 0.5, kind: "throttle", throttle: 1 },
					{ atSec: 2, kind: "throttle", throttle: 0, ofHover: 1 },
				],
			},
		),
	];
}
