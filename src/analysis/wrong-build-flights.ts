import type { AxisName, GainSet } from "../control/spec.ts";
import type { Craft, OperatingPoint } from "../craft/model.ts";
import { type Drill, type DrillEvent, STILL_AIR } from "../flight/drill.ts";
import { fly } from "../flight/engine.ts";
import type { FlightResult, Trace } from "../flight/result.ts";
import { plantAt } from "../physics/plant-at.ts";
import { type FirstFall, firstFall } from "./first-fall.ts";
import { hoverTrim } from "./hover.ts";
import type { WrongKind } from "./wrong-kinds.ts";

const DEG = 180 / Math.PI;
const SEEDS = 3;
const ASK_SEC = 3;
const LIVE_SEC = 0.1;
const RAMP_SEC = 1;
const RAMP_STEPS = 20;
/** Throttle at the end of the ramp over hover. */
const CLIMB = 1.08;
/** Of the weight. */
const LIGHT = 0.8;
const RECORD = { recordPeriodUs: 1000 };
const ASKED_RAD = 10 / DEG;
const ASKED_RAD_PER_SEC = 60 / DEG;

interface FlownWrong {
	readonly rotors: readonly number[];
	readonly flight: FlightResult;
	readonly fall: FirstFall;
	/** False where other seeds of the noise let it fall to another side, or turn the other way. */
	readonly sameSide: boolean;
}

/** Where it falls, else which way it turns. */
const sideOf = (fall: FirstFall): string =>
	fall.fallSec !== null ? `${fall.direction}` : `turns ${Math.sign(fall.turn?.degPerSec ?? 0)}`;

interface Flying {
	readonly craft: Craft;
	readonly point: OperatingPoint;
	readonly gainSet: GainSet;
}

/** The right build's lift-off, against which the wrong ones are held. */
export interface LiftOff extends Flying {
	/** When thrust has reached 80 % of the weight. */
	readonly lightSec: number;
	readonly right: FlownWrong;
}

/** Flies the right build. */
export function rightLiftOff(flying: Flying): LiftOff {
	const drill = liftOffDrill(flying, null);
	const flight = fly({ ...flying, drill, options: RECORD });
	const lightSec = lightFrom(flying, flight.trace);
	return {
		...flying,
		lightSec,
		right: { rotors: [], flight, fall: fallOf(flight, lightSec), sameSide: true },
	};
}

/**
 * From rest on level ground in still air: live, throttle in a second from nothing to a little more than the right build's
 * hover, held. A reversed stick is moved once in the air, or it would never show.
 */
function liftOffDrill({ craft, point, gainSet }: Flying, asks: AxisName | null): Drill {
	const { result } = hoverTrim(craft, point);
	const most = Math.min(1, CLIMB * (result.feasible ? result.trim.throttle : 1));
	const events: DrillEvent[] = [{ atSec: LIVE_SEC, kind: "makeLive" }];
	for (let k = 1; k <= RAMP_STEPS; k++)
		events.push({
			atSec: LIVE_SEC + (k * RAMP_SEC) / RAMP_STEPS,
			kind: "throttle",
			throttle: (most * k) / RAMP_STEPS,
		});
	if (asks === "yaw" || (asks !== null && gainSet.structure === "rateOnly"))
		events.push({ atSec: ASK_SEC, kind: "rate", axis: asks, rateRadPerSec: ASKED_RAD_PER_SEC });
	else if (asks !== null) events.push({ atSec: ASK_SEC, kind: "angle", axis: asks, angleRad: ASKED_RAD });
	return {
		name: "first lift-off",
		about: "From rest on level ground, still air, sticks at rest, throttle up to a little more than hover.",
		durationSec: 4,
		heightM: 0,
		start: "ground",
		seed: 1,
		events,
		wind: STILL_AIR,
	};
}

/** The wiring flown with the drill's seed and two more. */
export function flyWrong(liftOff: LiftOff, kind: WrongKind, rotors: readonly number[]): FlownWrong {
	const first = flown(liftOff, kind, rotors, 0);
	if (first.fall.fallSec === null && first.fall.turn === null) return first;
	let sameSide = true;
	for (let k = 1; k < SEEDS && sameSide; k++)
		sameSide = sideOf(flown(liftOff, kind, rotors, k).fall) === sideOf(first.fall);
	return { ...first, sameSide };
}

/** The way to have this mistake that falls soonest (that leans furthest in 300 ms where none falls). */
export function fastestWay(
	liftOff: LiftOff,
	kind: WrongKind,
	ways: readonly (readonly number[])[],
): readonly number[] {
	if (ways.length < 2) return ways[0] ?? [];
	const tries = ways.map((rotors) => flown(liftOff, kind, rotors, 0));
	const soon = (each: FlownWrong): number => each.fall.fallSec ?? 1000 - each.fall.tilt300Deg;
	return tries.reduce((best, each) => (soon(each) < soon(best) ? each : best)).rotors;
}

function flown(liftOff: LiftOff, kind: WrongKind, rotors: readonly number[], moreSeed: number): FlownWrong {
	const { craft, point, gainSet, lightSec } = liftOff;
	const drill = liftOffDrill(liftOff, kind.asks);
	const flight = fly({
		craft,
		point,
		gainSet,
		drill,
		wiring: kind.wiring(gainSet, craft, rotors),
		options: { ...RECORD, seed: drill.seed + moreSeed },
	});
	return { rotors, flight, fall: fallOf(flight, lightSec), sameSide: true };
}

const fallOf = (flight: FlightResult, lightSec: number): FirstFall =>
	firstFall(flight.trace, lightSec, " after it gets light", flight.status === "tippedOver");

/** When the rotors first carry 80 % of the weight; the end of the ramp where they never do. */
export function lightFrom(
	{ craft, point }: Pick<Flying, "craft" | "point">,
	{ columns, length }: Trace,
): number {
	const plant = plantAt(craft, point);
	for (let i = 0; i < length; i++) {
		const lift = plant.rotors.reduce(
			(sum, rotor, k) => sum + rotor.thrustCoefficient * columns[`rotorSpeed${k}`]![i]! ** 2,
			0,
		);
		if (lift >= LIGHT * plant.massKg * plant.gravityMPerSec2) return columns["time"]![i]!;
	}
	return LIVE_SEC + RAMP_SEC;
}

/** How far up it is at the end, m. */
function risen({ columns, length }: Trace): number {
	return length === 0 ? 0 : columns["down"]![0]! - columns["down"]![length - 1]!;
}

/** What the right build does. */
export function rightSentence({ right: { flight, fall } }: LiftOff): string {
	return `lifts off, ${risen(flight.trace).toFixed(1)} m up after ${flight.timeSec.toFixed(1)} s; ${fall.sentence}`;
}

/** One sentence: how it falls, how far it is from the right build, what chance decides, how it ends. */
export function flownSentence(wrong: FlownWrong, { right, lightSec }: LiftOff, kind: WrongKind): string {
	const { fall, flight } = wrong;
	const parts: string[] = [];
	const apart = apartDeg(flight.trace, right.flight.trace, lightSec);
	if (fall.fallSec === null && apart < 1)
		parts.push(`hardly differs in the first 300 ms (${apart.toFixed(1)} deg from the right build)`);
	if (kind.asks) parts.push(askedPhrase(kind.asks, flight.trace));
	else parts.push(parts.length > 0 ? fall.sentence.replace(/^hardly moves: /, "") : fall.sentence);
	if (!wrong.sameSide)
		parts.push(
			`the ${fall.fallSec === null ? "way it turns" : "side"} is decided by chance: other noise, another`,
		);
	const swing = commandSwing(flight.trace, lightSec);
	const usual = commandSwing(right.flight.trace, lightSec);
	if (fall.fallSec === null && swing > 0.1 + usual && swing > 2 * usual)
		parts.push(
			`motor commands swing over ${(100 * swing).toFixed(0)} % of full in 300 ms, ${(100 * usual).toFixed(0)} % when right`,
		);
	if (fall.fallSec === null && flight.status !== "completed") parts.push(flight.reason);
	if (flight.status === "completed" && risen(flight.trace) < 0.1) parts.push("it does not lift off");
	return parts.join("; ");
}

/** Rows of the first 300 ms. */
function firstRows({ columns, length }: Trace, fromSec: number): { from: number; to: number } {
	const time = columns["time"]!;
	let from = 0;
	while (from < length && time[from]! < fromSec) from++;
	let to = from;
	while (to < length && time[to]! <= fromSec + 0.3) to++;
	return { from, to };
}

/** Largest angle between the two builds, roll and pitch, within 300 ms. */
function apartDeg(a: Trace, b: Trace, fromSec: number): number {
	const { from, to } = firstRows(a.length < b.length ? a : b, fromSec);
	let most = 0;
	for (let i = from; i < to; i++)
		for (const axis of ["roll", "pitch"])
			most = Math.max(most, Math.abs(a.columns[axis]![i]! - b.columns[axis]![i]!));
	return most * DEG;
}

/** Largest range of any motor's command within 300 ms. */
function commandSwing(trace: Trace, fromSec: number): number {
	const { from, to } = firstRows(trace, fromSec);
	let most = 0;
	for (let k = 0; trace.columns[`command${k}`]; k++) {
		const part = trace.columns[`command${k}`]!.subarray(from, to);
		if (part.length > 0) most = Math.max(most, Math.max(...part) - Math.min(...part));
	}
	return most;
}

const SIDES = {
	roll: ["right", "left", "roll to the right"],
	pitch: ["nose up", "nose down", "pitch up"],
	yaw: ["clockwise", "counter-clockwise", "turn clockwise"],
} as const;

/** What it does half a second after it was asked. */
function askedPhrase(axis: "roll" | "pitch" | "yaw", trace: Trace): string {
	const time = trace.columns["time"]!;
	let at = trace.length - 1;
	while (at > 0 && time[at]! > ASK_SEC + 0.5) at--;
	const rate = axis === "yaw";
	const value = trace.columns[rate ? "yawRate" : axis]![at]! * DEG;
	const [plus, minus] = SIDES[axis];
	const unit = rate ? "deg/s" : "deg";
	const asked = rate ? ASKED_RAD_PER_SEC * DEG : ASKED_RAD * DEG;
	return `asked for ${asked.toFixed(0)} ${unit} ${plus} it has ${Math.abs(value).toFixed(1)} ${unit} ${value < 0 ? minus : plus} ${(time[at]! - ASK_SEC).toFixed(1)} s later`;
}
