import { AXES, type AxisName, type GainSet } from "../control/spec.ts";
import type { Craft, OperatingPoint } from "../craft/model.ts";
import { type Drill, type DrillEvent, STILL_AIR } from "../flight/drill.ts";
import { fly } from "../flight/engine.ts";
import type { FlightResult } from "../flight/result.ts";

/** How long the loop may stop on one axis. */
export interface LongestStall {
	readonly axis: AxisName;
	/** ms; null: every stall up to `STALL_CAP_MS` is survived, or none of 1 ms is. */
	readonly survivesMs: number | null;
	/** Why there is no number; else empty. */
	readonly why: string;
	/** What the first stall that is not survived does: a sentence with its numbers; empty where there is none. */
	readonly beyond: string;
}

const DEG = Math.PI / 180;
export const STALL_CAP_MS = 2000;
/** What the craft is doing when the loop stops: with nothing under way held commands would hold the trim. */
const STEP_RAD = 5 * DEG;
const TURN_RAD_PER_SEC = 30 * DEG;
const STEP_AT = 0.2;
const WATCH_SEC = 4;
/** Beyond it no one would call it survived, though the simulator flies on. */
const LOST_RAD = 60 * DEG;
const LOST_TURN_RAD_PER_SEC = 360 * DEG;
const CALM_RAD = 10 * DEG;
const HEIGHT_M = 30;
/** Noisy hovers flown per axis. */
export const STALL_SEEDS = 20;
const NOISY_AT = 0.3;
const NOISY_WATCH_SEC = 1.5;
const NOISY = { noise: true, rounding: true, recordPeriodUs: 1000 };
const OPTIONS = { noise: false, rounding: false, recordPeriodUs: 1000 };

/** The drill of one axis: a step asked for, the loop stopped where it corrects hardest. */
function stallDrill(axis: AxisName, rateOnly: boolean, stallAtSec: number, stallSec: number): Drill {
	const step: DrillEvent =
		axis === "yaw" || rateOnly
			? { atSec: STEP_AT, kind: "rate", axis, rateRadPerSec: TURN_RAD_PER_SEC }
			: { atSec: STEP_AT, kind: "angle", axis, angleRad: STEP_RAD };
	// A rate step would turn the craft without end: the stick comes back.
	const back: DrillEvent[] =
		rateOnly && axis !== "yaw" ? [{ atSec: STEP_AT + 0.15, kind: "rate", axis, rateRadPerSec: 0 }] : [];
	return {
		name: `longest stall, ${axis}`,
		about: "",
		durationSec: stallAtSec + stallSec + WATCH_SEC,
		heightM: HEIGHT_M,
		seed: 1,
		events: [
			step,
			...back,
			...(stallSec > 0 ? [{ atSec: stallAtSec, kind: "stall" as const, durationSec: stallSec }] : []),
		],
		wind: STILL_AIR,
	};
}

/** This axis beyond what anyone would call survived; empty where it never is. */
function beyondBy(flight: FlightResult, axis: AxisName, fromSec: number): string {
	const { columns, length } = flight.trace;
	const time = columns["time"]!;
	const angle = columns[axis]!;
	const rate = columns[`${axis}Rate`]!;
	for (let i = 0; i < length; i++) {
		if (time[i]! < fromSec) continue;
		const value = Math.abs(axis === "yaw" ? rate[i]! : angle[i]!);
		const over = axis === "yaw" ? LOST_TURN_RAD_PER_SEC : LOST_RAD;
		if (value > over)
			return axis === "yaw"
				? `turns faster than ${Math.round(over / DEG)} deg/s ${(time[i]! - fromSec).toFixed(2)} s after the loop stopped`
				: `leans ${Math.round(over / DEG)} deg ${(time[i]! - fromSec).toFixed(2)} s after the loop stopped`;
	}
	return "";
}

function lostBy(flight: FlightResult, axis: AxisName, fromSec: number): string {
	const beyond = beyondBy(flight, axis, fromSec);
	if (beyond !== "") return beyond;
	if (flight.status !== "completed") return flight.reason;
	const { columns, length } = flight.trace;
	const angle = columns[axis]!;
	const rate = columns[`${axis}Rate`]!;
	const end = Math.abs(axis === "yaw" ? rate[length - 1]! - TURN_RAD_PER_SEC : angle[length - 1]!);
	if (end > CALM_RAD && axis !== "yaw")
		return `still leans ${(end / DEG).toFixed(0)} deg ${WATCH_SEC} s after the loop came back`;
	if (axis === "yaw" && end > TURN_RAD_PER_SEC)
		return `still turns ${(end / DEG).toFixed(0)} deg/s beside what was asked ${WATCH_SEC} s after the loop came back`;
	return "";
}

/** Hovering, the loop stopped on whatever the sensors' noise had just told the motors. */
const noisyDrill = (stallSec: number, seed: number): Drill => ({
	name: "longest stall, hovering",
	about: "",
	durationSec: NOISY_AT + stallSec + NOISY_WATCH_SEC,
	heightM: HEIGHT_M,
	seed,
	events: [{ atSec: NOISY_AT, kind: "stall", durationSec: stallSec }],
	wind: STILL_AIR,
});

/** Longest that is survived below one that is not. */
function bisected(lost: (ms: number) => string, lostAt: number): number {
	let low = 0;
	let high = lostAt;
	while (high - low > 1) {
		const middle = Math.floor((low + high) / 2);
		if (lost(middle) === "") low = middle;
		else high = middle;
	}
	return low;
}

/**
 * The longest stall that a gain set survives at hover in still air, axis by axis, to a millisecond: the shortest of two kinds.
 * Noise off, the loop stops where the axis works hardest on a 5 degree step (yaw: 30 degrees a second); survived is what never
 * leans 60 degrees (yaw: turns 360 degrees a second), touches nothing and is calm 4 s later. Hovering, the motors hold what the
 * sensors' noise of that tick told them: the worst of `STALL_SEEDS` tries, which other noise may undercut. Bisected over flights.
 */
export function longestStall(
	craft: Craft,
	point: OperatingPoint,
	gainSet: GainSet,
	axis: AxisName,
): LongestStall {
	const rateOnly = gainSet.structure === "rateOnly";
	const flown = (atSec: number, ms: number): FlightResult =>
		fly({ craft, point, gainSet, drill: stallDrill(axis, rateOnly, atSec, ms * 1e-3), options: OPTIONS });
	const free = flown(STEP_AT, 0);
	const output = free.trace.columns[`${axis}Output`]!;
	const trimmed = output[0]!;
	let hardest = 0;
	for (let i = 0; i < output.length; i++)
		if (Math.abs(output[i]! - trimmed) > Math.abs(output[hardest]! - trimmed)) hardest = i;
	// One record later the command that works hardest is on its way.
	const atSec = free.trace.columns["time"]![hardest]! + 1e-3;
	const calm = lostBy(free, axis, STEP_AT);
	if (calm !== "") return { axis, survivesMs: null, why: `not even without a stall: ${calm}`, beyond: "" };
	const inStep = (ms: number): string => {
		const how = lostBy(flown(atSec, ms), axis, atSec);
		return how === "" ? "" : `${how}, in the middle of a step`;
	};
	const inNoise =
		(seed: number) =>
		(ms: number): string => {
			const drill = noisyDrill(ms * 1e-3, seed);
			const how = beyondBy(fly({ craft, point, gainSet, drill, options: NOISY }), axis, NOISY_AT);
			return how === "" ? "" : `${how}, hovering with the sensors' noise (seed ${seed})`;
		};
	let longest = STALL_CAP_MS;
	let beyond = "";
	for (const lost of [inStep, ...Array.from({ length: STALL_SEEDS }, (_, k) => inNoise(k + 1))]) {
		const tried = Math.min(longest + 1, STALL_CAP_MS);
		if (lost(tried) === "") continue;
		longest = bisected(lost, tried);
		beyond = lost(longest + 1);
	}
	if (beyond === "")
		return { axis, survivesMs: null, why: `every stall up to ${STALL_CAP_MS} ms is survived`, beyond };
	return longest === 0
		? { axis, survivesMs: null, why: "not even one of 1 ms is survived", beyond }
		: { axis, survivesMs: longest, why: "", beyond };
}

export const longestStalls = (craft: Craft, point: OperatingPoint, gainSet: GainSet): LongestStall[] =>
	AXES.map((axis) => longestStall(craft, point, gainSet, axis));
