import type { Drill, DrillEvent } from "../flight/drill.ts";
import type { FlightResult } from "../flight/result.ts";
import type { Metric } from "./step-metrics.ts";

/** How a height that a drill asks for was kept, until the next is asked for, the throttle is left or the drill ends. */
export interface HeightMetrics {
	readonly by: "law" | "pilot";
	readonly targetM: number;
	readonly atSec: number;
	/** From being asked until the feet are within ARRIVED of it for the first time. */
	readonly arrivalSec: Metric;
	/** From arrival on: largest distance from the target, and its RMS. */
	readonly peakErrorM: Metric;
	readonly rmsErrorM: Metric;
	/** Of the feet over the ground, over the same time. */
	readonly lowestM: Metric;
	readonly highestM: Metric;
}

/** m; common practice, no source. */
export const ARRIVED = 0.1;

/** One for each height asked for, in order of time. Of the feet as if the craft stood level and carried what it began with. */
export function heightMetrics(flight: FlightResult, drill: Drill): HeightMetrics[] {
	const changes = drill.events.filter(changesHeight).sort((a, b) => a.atSec - b.atSec);
	return changes.flatMap((event, i) => {
		if (event.kind !== "height") return [];
		return [ofOne(flight, drill, event, changes[i + 1]?.atSec ?? drill.durationSec)];
	});
}

const changesHeight = (event: DrillEvent): boolean =>
	event.kind === "height" ||
	event.kind === "leaveThrottle" ||
	event.kind === "throttle" ||
	(event.kind === "stick" && event.axis === "throttle");

function ofOne(
	flight: FlightResult,
	drill: Drill,
	{ by, heightM: targetM, atSec }: Extract<DrillEvent, { kind: "height" }>,
	untilSec: number,
): HeightMetrics {
	const none = (why: string): HeightMetrics => {
		const gone: Metric = { value: null, why };
		return {
			by,
			targetM,
			atSec,
			arrivalSec: gone,
			peakErrorM: gone,
			rmsErrorM: gone,
			lowestM: gone,
			highestM: gone,
		};
	};
	if (flight.status !== "completed")
		return none(`the flight ended after ${flight.timeSec.toFixed(2)} s: ${flight.reason}`);
	const { time, down } = flight.trace.columns;
	if (!time || !down) throw new RangeError("height metrics: the trace has no column 'time' or 'down'");
	const startM = drill.start === "ground" ? 0 : drill.heightM;
	let arrived = -1;
	let nearest = Number.POSITIVE_INFINITY;
	let count = 0;
	let lowest = Number.POSITIVE_INFINITY;
	let highest = Number.NEGATIVE_INFINITY;
	let squares = 0;
	for (let i = 0; i < flight.trace.length && time[i]! <= untilSec; i++) {
		if (time[i]! < atSec) continue;
		const feetM = startM + down[0]! - down[i]!;
		const error = Math.abs(targetM - feetM);
		nearest = Math.min(nearest, error);
		if (arrived < 0 && error <= ARRIVED) arrived = i;
		if (arrived < 0) continue;
		lowest = Math.min(lowest, feetM);
		highest = Math.max(highest, feetM);
		squares += error * error;
		count++;
	}
	if (arrived < 0)
		return none(
			Number.isFinite(nearest)
				? `it came no nearer than ${nearest.toFixed(2)} m within ${(untilSec - atSec).toFixed(1)} s, ${ARRIVED} m counts as arrived`
				: "nothing was recorded while it was asked for",
		);
	return {
		by,
		targetM,
		atSec,
		arrivalSec: { value: time[arrived]! - atSec },
		peakErrorM: { value: Math.max(targetM - lowest, highest - targetM) },
		rmsErrorM: { value: Math.sqrt(squares / count) },
		lowestM: { value: lowest },
		highestM: { value: highest },
	};
}
