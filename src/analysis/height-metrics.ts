import type { Drill, DrillEvent } from "../flight/drill.ts";
import type { FlightResult } from "../flight/result.ts";
import type { Metric } from "./step-metrics.ts";

/** How the last height that a drill asks for was kept. */
export interface HeightMetrics {
	readonly by: "law" | "pilot";
	readonly targetM: number;
	readonly atSec: number;
	/** From being asked until the feet are within ARRIVED of it for the first time. */
	readonly arrivalSec: Metric;
	/** From arrival until the throttle is left or the flight ends: largest distance from the target, and its RMS. */
	readonly peakErrorM: Metric;
	readonly rmsErrorM: Metric;
}

/** m; common practice, no source. */
const ARRIVED = 0.1;

/** Of the feet as if the craft stood level and carried what it began with; null where the drill asks for no height. */
export function heightMetrics(flight: FlightResult, drill: Drill): HeightMetrics | null {
	const asked = drill.events.filter((event) => event.kind === "height");
	const last = asked.reduce<(typeof asked)[number] | null>(
		(late, event) => (late === null || event.atSec >= late.atSec ? event : late),
		null,
	);
	if (!last) return null;
	const { by, heightM: targetM, atSec } = last;
	const none = (why: string): HeightMetrics => {
		const gone: Metric = { value: null, why };
		return { by, targetM, atSec, arrivalSec: gone, peakErrorM: gone, rmsErrorM: gone };
	};
	if (flight.status !== "completed")
		return none(`the flight ended after ${flight.timeSec.toFixed(2)} s: ${flight.reason}`);
	const { time, down } = flight.trace.columns;
	if (!time || !down) throw new RangeError("height metrics: the trace has no column 'time' or 'down'");
	const endSec = Math.min(
		...drill.events.flatMap((e) => (e.atSec > atSec && leaves(e) ? [e.atSec] : [])),
		Number.POSITIVE_INFINITY,
	);
	const startM = drill.start === "ground" ? 0 : drill.heightM;
	const errorAt = (i: number): number => targetM - (startM + down[0]! - down[i]!);
	let arrived = -1;
	let count = 0;
	let peak = 0;
	let squares = 0;
	for (let i = 0; i < flight.trace.length && time[i]! <= endSec; i++) {
		if (time[i]! < atSec) continue;
		const error = Math.abs(errorAt(i));
		if (arrived < 0 && error <= ARRIVED) arrived = i;
		if (arrived < 0) continue;
		peak = Math.max(peak, error);
		squares += error * error;
		count++;
	}
	if (arrived < 0) return none(`it never came within ${ARRIVED} m of ${targetM} m`);
	return {
		by,
		targetM,
		atSec,
		arrivalSec: { value: time[arrived]! - atSec },
		peakErrorM: { value: peak },
		rmsErrorM: { value: Math.sqrt(squares / count) },
	};
}

const leaves = (event: DrillEvent): boolean =>
	event.kind === "leaveThrottle" ||
	event.kind === "throttle" ||
	(event.kind === "stick" && event.axis === "throttle");
