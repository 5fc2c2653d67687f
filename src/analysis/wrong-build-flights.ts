import type { GainSet } from "../control/spec.ts";
import type { Craft, OperatingPoint } from "../craft/model.ts";
import { type Drill, STILL_AIR } from "../flight/drill.ts";
import { fly } from "../flight/engine.ts";
import type { FlightResult, Trace } from "../flight/result.ts";
import type { Wiring } from "../flight/wiring.ts";
import { type FirstFall, firstFall } from "./first-fall.ts";
import type { WrongKind } from "./wrong-kinds.ts";

const DEG = 180 / Math.PI;
const SEEDS = 3;
const ASK_SEC = 1;
const ASKED_RAD = 10 / DEG;
const ASKED_RAD_PER_SEC = 60 / DEG;

export interface FlownWrong {
	readonly rotors: readonly number[];
	readonly flight: FlightResult;
	readonly fall: FirstFall;
	/** False where other seeds of the noise let it fall to another side, or turn the other way. */
	readonly sameSide: boolean;
}

/** Hover in still air two metres up; a reversed stick is moved after a second, or it would never show. */
function firstHover(kind: WrongKind | null, rateOnly: boolean): Drill {
	const axis = kind?.asks ?? null;
	const atSec = ASK_SEC;
	const asked =
		axis === null
			? []
			: axis === "yaw" || rateOnly
				? [{ atSec, kind: "rate", axis, rateRadPerSec: ASKED_RAD_PER_SEC } as const]
				: [{ atSec, kind: "angle", axis, angleRad: ASKED_RAD } as const];
	return {
		name: "first hover",
		about:
			"Held in the air at hover, sticks at rest, no wind: what the first moment off the ground looks like.",
		durationSec: 3,
		heightM: 2,
		seed: 1,
		events: asked,
		wind: STILL_AIR,
	};
}

/** Where it falls, else which way it turns. */
const sideOf = (fall: FirstFall): string =>
	fall.fallSec !== null ? `${fall.direction}` : `turns ${Math.sign(fall.turn?.degPerSec ?? 0)}`;

interface Flying {
	readonly craft: Craft;
	readonly point: OperatingPoint;
	readonly gainSet: GainSet;
}

const recordEveryMs = { recordPeriodUs: 1000 };

export function flyRight(flying: Flying): FlownWrong {
	return flown(flying, firstHover(null, flying.gainSet.structure === "rateOnly"), undefined, []);
}

/** The wiring flown with the drill's seed and two more. */
export function flyWrong(flying: Flying, kind: WrongKind, rotors: readonly number[]): FlownWrong {
	const drill = firstHover(kind, flying.gainSet.structure === "rateOnly");
	const wiring = kind.wiring(flying.gainSet, flying.craft, rotors);
	const first = flown(flying, drill, wiring, rotors);
	if (first.fall.fallSec === null && first.fall.turn === null) return first;
	let sameSide = true;
	for (let k = 1; k < SEEDS && sameSide; k++) {
		const again = flown(flying, { ...drill, seed: drill.seed + k }, wiring, rotors);
		sameSide = sideOf(again.fall) === sideOf(first.fall);
	}
	return { ...first, sameSide };
}

/** The way to have this mistake that falls soonest (that leans furthest in 300 ms where none falls). */
export function fastestWay(
	flying: Flying,
	kind: WrongKind,
	ways: readonly (readonly number[])[],
): readonly number[] {
	if (ways.length < 2) return ways[0] ?? [];
	const drill = firstHover(kind, flying.gainSet.structure === "rateOnly");
	const tries = ways.map((rotors) =>
		flown(flying, drill, kind.wiring(flying.gainSet, flying.craft, rotors), rotors),
	);
	const soon = (each: FlownWrong): number => each.fall.fallSec ?? 1000 - each.fall.tilt300Deg;
	return tries.reduce((best, each) => (soon(each) < soon(best) ? each : best)).rotors;
}

function flown(
	flying: Flying,
	drill: Drill,
	wiring: Wiring | undefined,
	rotors: readonly number[],
): FlownWrong {
	const flight = fly({ ...flying, drill, options: recordEveryMs, ...(wiring ? { wiring } : {}) });
	return { rotors, flight, fall: firstFall(flight.trace, 0, ""), sameSide: true };
}

/** One sentence: how it falls, how far it is from the right build, what chance decides, how it ends. */
export function flownSentence(wrong: FlownWrong, right: FlownWrong, kind: WrongKind): string {
	const { fall, flight } = wrong;
	const parts: string[] = [];
	const apart = apartDeg(flight.trace, right.flight.trace);
	if (fall.fallSec === null && apart < 1)
		parts.push(`hardly differs in the first 300 ms (${apart.toFixed(1)} deg from the right build)`);
	if (kind.asks) parts.push(askedPhrase(kind.asks, flight.trace));
	else parts.push(parts.length > 0 ? fall.sentence.replace(/^hardly moves: /, "") : fall.sentence);
	if (!wrong.sameSide)
		parts.push(
			`the ${fall.fallSec === null ? "way it turns" : "side"} is decided by chance: other noise, another`,
		);
	const swing = commandSwing(flight.trace);
	const usual = commandSwing(right.flight.trace);
	if (fall.fallSec === null && swing > 0.1 && swing > 3 * usual)
		parts.push(
			`motor commands swing over ${(100 * swing).toFixed(0)} % of full in 300 ms, ${(100 * usual).toFixed(0)} % when right`,
		);
	if (fall.fallSec === null && flight.status !== "completed") parts.push(flight.reason);
	return parts.join("; ");
}

/** Largest angle between the two builds, roll and pitch, within 300 ms. */
function apartDeg(a: Trace, b: Trace): number {
	const rows = Math.min(a.length, b.length);
	const time = a.columns["time"]!;
	let most = 0;
	for (let i = 0; i < rows && time[i]! <= 0.3; i++)
		for (const axis of ["roll", "pitch"])
			most = Math.max(most, Math.abs(a.columns[axis]![i]! - b.columns[axis]![i]!));
	return most * DEG;
}

/** Largest range of any motor's command within 300 ms. */
function commandSwing(trace: Trace): number {
	const time = trace.columns["time"]!;
	let most = 0;
	for (let k = 0; trace.columns[`command${k}`]; k++) {
		const command = trace.columns[`command${k}`]!;
		let low = command[0]!;
		let high = low;
		for (let i = 0; i < trace.length && time[i]! <= 0.3; i++) {
			low = Math.min(low, command[i]!);
			high = Math.max(high, command[i]!);
		}
		most = Math.max(most, high - low);
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
