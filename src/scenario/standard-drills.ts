import type { Craft } from "../craft/model.ts";
import { type Drill, LEVEL_GROUND, STILL_AIR } from "../flight/drill.ts";
import { standardPivot, standardStrings } from "./rigs.ts";
import { raise } from "./throttle-ramp.ts";
import { STRENGTH } from "./wind-strength.ts";

const DEG = Math.PI / 180;

/** Flights that any craft can be asked to do. */
export function standardDrills(craft: Craft): Drill[] {
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
			"full throttle and back",
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
