import { ARRIVED } from "../analysis/height-metrics.ts";
import type { FlightJson } from "./json/fly.ts";

/** Beyond what a stick asks of most craft; and half the height it was to keep (both common practice, no source). */
const FAR_DEG = 30;
const FAR_OF_HEIGHT = 0.5;
/**
 * Near the ground half of the height is less than a hover wanders. Down, what counts as arrived is no alarm: the flight may have begun or come in there.
 * Up, there is room: the other number is common practice, no source.
 */
const LEAST_DOWN_M = ARRIVED;
const LEAST_UP_M = 0.5;

/** What brought a flight that went to its end near to being lost, each with its number; empty where nothing did. */
export function closeCalls({ metrics, heights }: Pick<FlightJson, "metrics" | "heights">): string[] {
	const said: string[] = [];
	for (const axis of ["roll", "pitch"] as const) {
		const m = metrics[axis];
		const off = "peakDeviationDeg" in m ? m.peakDeviationDeg : null;
		if (off !== null && off > FAR_DEG) said.push(`${axis} was up to ${off.toFixed(0)} deg off`);
	}
	for (const { targetM, lowestM, highestM } of heights) {
		if (lowestM === null || highestM === null || targetM <= 0) continue;
		const far = FAR_OF_HEIGHT * targetM;
		const asked = `where ${targetM.toFixed(2)} m were asked for`;
		if (targetM - lowestM > Math.max(far, LEAST_DOWN_M))
			said.push(`the feet were down to ${lowestM.toFixed(2)} m ${asked}`);
		if (highestM - targetM > Math.max(far, LEAST_UP_M))
			said.push(`the feet were up to ${highestM.toFixed(2)} m ${asked}`);
	}
	return said;
}

export const CLOSE_CALL = `Care is said beyond ${FAR_DEG} deg, or half of the height off and more than ${LEAST_DOWN_M} m down or ${LEAST_UP_M} m up (common practice, no source).`;
