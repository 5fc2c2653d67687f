import type { Trace } from "../flight/result.ts";

const DEG = 180 / Math.PI;

/** What a person sees first: measured on a trace, from the moment it gets light (or begins in the air). */
export interface FirstFall {
	readonly fromSec: number;
	/** Where it leans at 40 degrees, or at its furthest: 'front', 'front-left' ...; null below 1 degree. */
	readonly direction: Direction | null;
	/** 40 degrees, or tipped over on the ground, after `fromSec`; null where neither. */
	readonly fallSec: number | null;
	/** Largest within 300 ms. */
	readonly tilt300Deg: number;
	/** Largest within what was flown. */
	readonly tiltDeg: number;
	readonly shake: {
		readonly axis: "roll" | "pitch" | "yaw";
		readonly hz: number;
		readonly degPerSec: number;
	} | null;
	/** Turn about the vertical after a second, else (below 45 deg/s then) when it falls or ends, clockwise above 0; null below 45 deg/s. */
	readonly turn: { readonly degPerSec: number; readonly atSec: number; readonly faster: boolean } | null;
	/** One sentence, no full stop, small first letter. */
	readonly sentence: string;
}

type Direction =
	| "front"
	| "front-right"
	| "right"
	| "rear-right"
	| "rear"
	| "rear-left"
	| "left"
	| "front-left";

const DIRECTIONS: readonly Direction[] = [
	"front",
	"front-right",
	"right",
	"rear-right",
	"rear",
	"rear-left",
	"left",
	"front-left",
];

const FALLEN_RAD = 40 / DEG;
const FIRST_SEC = 0.3;
const HARDLY_DEG = 3;
/** Slower swings are not called shaking, smaller ones are not seen. */
const SHAKE_LEAST_HZ = 1.5;
const SHAKE_LEAST_DEG_PER_SEC = 15;
const TURN_LEAST_DEG_PER_SEC = 45;

/** Leans at a row: forward and right components of the body-frame direction of gravity (1 when it stands on edge). */
function leanAt({ columns }: Trace, i: number): { front: number; right: number; tiltRad: number } {
	const roll = columns["roll"]![i]!;
	const pitch = columns["pitch"]![i]!;
	const tiltRad = Math.acos(Math.max(-1, Math.min(1, Math.cos(roll) * Math.cos(pitch))));
	return { front: -Math.sin(pitch), right: Math.sin(roll) * Math.cos(pitch), tiltRad };
}

function directionOf(front: number, right: number): Direction {
	const eighth = Math.round(Math.atan2(right, front) / (Math.PI / 4));
	return DIRECTIONS[(eighth + 8) % 8]!;
}

/** @param since how the sentence names `fromSec`, such as ' after it gets light' or nothing; a trace with no row from there on falls nowhere. `tipped`: it ended on the ground. */
export function firstFall(trace: Trace, fromSec: number, since: string, tipped = false): FirstFall {
	const time = trace.columns["time"]!;
	let first = 0;
	while (first < trace.length && time[first]! < fromSec - 1e-9) first++;
	let fallSec: number | null = null;
	let end = trace.length;
	let tilt300 = 0;
	let tilt = 0;
	let at = first;
	for (let i = first; i < trace.length; i++) {
		const { tiltRad } = leanAt(trace, i);
		if (tiltRad > tilt) {
			tilt = tiltRad;
			if (fallSec === null) at = i;
		}
		if (time[i]! - fromSec <= FIRST_SEC + 1e-9) tilt300 = tilt;
		if (fallSec === null && tiltRad >= FALLEN_RAD) {
			fallSec = time[i]! - fromSec;
			end = i + 1;
		}
	}
	if (tipped && fallSec === null && first < trace.length) fallSec = time[trace.length - 1]! - fromSec;
	const lean = first < trace.length ? leanAt(trace, at) : null;
	const direction = lean && lean.tiltRad * DEG >= 1 ? directionOf(lean.front, lean.right) : null;
	const shake = shakeOf(trace, first, end);
	const turn = turnOf(trace, first, end, fromSec);
	const found = { fromSec, direction, fallSec, tilt300Deg: tilt300 * DEG, tiltDeg: tilt * DEG, shake, turn };
	return { ...found, sentence: sentenceOf(found, since) };
}

/** Crossings of zero that reach a third of the largest swing on both sides; at least three whole ones. */
function shakeOf(trace: Trace, first: number, end: number): FirstFall["shake"] {
	const time = trace.columns["time"]!;
	let best: NonNullable<FirstFall["shake"]> | null = null;
	for (const axis of ["roll", "pitch", "yaw"] as const) {
		const rate = trace.columns[`${axis}Rate`]!;
		let largest = 0;
		for (let i = first; i < end; i++) largest = Math.max(largest, Math.abs(rate[i]!));
		const band = largest / 3;
		let side = 0;
		const turns: number[] = [];
		for (let i = first; i < end; i++) {
			const now = rate[i]! > band ? 1 : rate[i]! < -band ? -1 : 0;
			if (now === 0 || now === side) continue;
			if (side !== 0) turns.push(time[i]!);
			side = now;
		}
		if (turns.length < 7) continue;
		const hz = (turns.length - 1) / (2 * (turns.at(-1)! - turns[0]!));
		const degPerSec = largest * DEG;
		if (hz < SHAKE_LEAST_HZ || degPerSec < SHAKE_LEAST_DEG_PER_SEC) continue;
		if (!best || degPerSec > best.degPerSec) best = { axis, hz, degPerSec };
	}
	return best;
}

function turnOf(trace: Trace, first: number, end: number, fromSec: number): FirstFall["turn"] {
	const { time, yawRate } = trace.columns as { time: Float64Array; yawRate: Float64Array };
	let last = end - 1;
	if (last <= first) return null;
	let second = last;
	while (time[second]! > fromSec + 1 + 1e-9) second--;
	if (second > first && Math.abs(yawRate[second]!) * DEG >= TURN_LEAST_DEG_PER_SEC) last = second;
	const degPerSec = yawRate[last]! * DEG;
	if (Math.abs(degPerSec) < TURN_LEAST_DEG_PER_SEC) return null;
	const half = yawRate[first + ((last - first) >> 1)]! * DEG;
	return { degPerSec, atSec: time[last]! - fromSec, faster: Math.abs(half) < 0.8 * Math.abs(degPerSec) };
}

function sentenceOf(f: Omit<FirstFall, "sentence">, since: string): string {
	const parts: string[] = [];
	if (f.fallSec !== null)
		parts.push(
			`${f.tiltDeg < 40 ? "tips over" : "falls"} ${f.direction}, ${Math.min(40, f.tiltDeg).toFixed(0)} deg in ${f.fallSec.toFixed(2)} s${since}`,
		);
	if (f.turn) {
		const way = f.turn.degPerSec > 0 ? "clockwise" : "counter-clockwise";
		parts.push(
			`turns ${way}${f.turn.faster ? " ever faster" : ""}, ${Math.abs(f.turn.degPerSec).toFixed(0)} deg/s after ${f.turn.atSec.toFixed(2)} s`,
		);
	}
	if (f.shake)
		parts.push(
			`shakes at ${f.shake.hz.toFixed(1)} Hz in ${f.shake.axis}, up to ${f.shake.degPerSec.toFixed(0)} deg/s`,
		);
	if (f.fallSec !== null && f.fallSec > FIRST_SEC)
		parts.push(`only ${f.tilt300Deg.toFixed(1)} deg in the first 300 ms`);
	if (f.fallSec === null) {
		const hardly = !f.turn && !f.shake && f.tiltDeg < HARDLY_DEG;
		parts.push(
			`${hardly ? "hardly moves: " : ""}leans ${f.direction === null || hardly ? "" : `${f.direction} `}${f.tilt300Deg.toFixed(1)} deg in the first 300 ms, ${f.tiltDeg.toFixed(1)} deg at most`,
		);
	}
	return parts.join("; ");
}
