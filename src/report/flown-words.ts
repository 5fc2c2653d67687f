import type { FlightJson } from "./json/fly.ts";

/** Beyond what a stick asks of most craft; and half the height it was to keep (both common practice, no source). */
const FAR_DEG = 30;
const FAR_OF_HEIGHT = 0.5;

/** What brought a flight that went to its end near to being lost, each with its number; empty where nothing did. */
export function closeCalls({ metrics, heights }: Pick<FlightJson, "metrics" | "heights">): string[] {
	const said: string[] = [];
	for (const axis of ["roll", "pitch"] as const) {
		const m = metrics[axis];
		const off = "peakDeviationDeg" in m ? m.peakDeviationDeg : null;
		if (off !== null && off > FAR_DEG) said.push(`${axis} was up to ${off.toFixed(0)} deg off`);
	}
	for (const { targetM, peakErrorM } of heights)
		if (peakErrorM !== null && targetM > 0 && peakErrorM > FAR_OF_HEIGHT * targetM)
			said.push(`height was up to ${peakErrorM.toFixed(2)} m off the ${targetM.toFixed(2)} m asked for`);
	return said;
}

export const CLOSE_CALL = `Care is said beyond ${FAR_DEG} deg or half of the height (common practice, no source).`;
