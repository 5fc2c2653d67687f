import type { Craft } from "../craft/model.ts";
import { COMMON, type Notes } from "../craft/notes.ts";
import type { Drill, DrillEvent, GroundSpec, TurbulenceSpec, WindSpec } from "../flight/drill.ts";
import { LEVEL_GROUND, STILL_AIR } from "../flight/drill.ts";
import type { LimbMove } from "../flight/limb-way.ts";
import * as vec3 from "../math/vec3.ts";
import type { DrillInput } from "./drill-schema.ts";
import { groundTakeUpProblems } from "./ground-take-up.ts";
import { limbMoveProblems, resolveLimbMove } from "./limb-events.ts";
import { resolveRig } from "./rigs.ts";
import { standardDrills } from "./standard-drills.ts";
import { raise } from "./throttle-ramp.ts";
import { STRENGTH } from "./wind-strength.ts";

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
	const moves: [LimbMove, string][] = [];
	const paths = new Map<DrillEvent, string>();
	const events = given.flatMap(({ event, path: at }) => {
		if (event.kind === "throttle") return raise(event, throttle);
		if (event.kind !== "limb") {
			const resolved = resolveEvent(event, at, craft, notes);
			paths.set(resolved, at);
			return [resolved];
		}
		const move = resolveLimbMove(event, at, craft, notes);
		if (move) moves.push([move, at]);
		return move ? [move] : [];
	});
	if (drill.rig)
		given.forEach(({ event, path: at }) => {
			const { kind } = event;
			if (kind === "limb" || kind === "stuckGrip")
				notes.problem(`${at}.kind`, kind, "a limb that moves only in flights without a rig");
			if (kind === "takeUp" && event.from === "ground")
				notes.problem(`${at}.from`, event.from, '"rest" on a rig, which has no ground');
		});
	limbMoveProblems(
		moves.map(([move]) => move),
		moves.map(([, at]) => at),
		craft,
		notes,
	);
	const heightM = drill.height ?? 10;
	const ground = drill.ground ? { ground: resolveGround(drill.ground) } : {};
	const started = start === "ground" ? { start } : {};
	events.sort((a, b) => a.atSec - b.atSec);
	for (const event of events)
		if (event.kind === "takeUp" && !drill.rig)
			groundTakeUpProblems(
				{ heightM, events, ...started, ...ground },
				event,
				paths.get(event) ?? path,
				craft,
				notes,
			);
	return {
		name: drill.name,
		about: drill.about ?? "",
		durationSec: drill.duration,
		heightM,
		seed: drill.seed ?? 1,
		events,
		wind: resolveWind(drill.wind),
		...started,
		...ground,
		...(drill.rig ? { rig: resolveRig(drill.rig) } : {}),
	};
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
	event: Exclude<EventInput, { kind: "throttle" | "limb" }>,
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
			return { atSec, kind: "letGo", ...(event.unnoticed && { unnoticed: true }) };
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
			const { limb, load } = craft;
			const gripped = event.held ? event.held === "grip" : load.inGrip === true && !event.position;
			if (gripped && !limb) notes.problem(`${path}.held`, event.held, "a craft with a limb (craft.limb)");
			const from = event.from === "ground" && { fromGround: true };
			if (!gripped || !limb)
				return { atSec, kind: "takeUp", massKg, positionM: event.position ?? load.positionM, ...from };
			const positionM = event.position ?? vec3.add(limb.gripM, load.gripOffsetM ?? [0, 0, 0]);
			return { atSec, kind: "takeUp", massKg, positionM, inGrip: true, ...from };
		}
		case "stuckGrip":
			if (!craft.limb) notes.problem(`${path}.kind`, event.kind, "a craft with a limb (craft.limb)");
			return {
				atSec,
				kind: "stuckGrip",
				stiffnessNPerM: event.stiffness ?? 400,
				dampingNSecPerM: event.damping ?? 4,
				durationSec: event.duration,
			};
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
