import type { Drill, DrillEvent } from "./drill.ts";

/** What happens at an instant: a drill event begins, one with a duration ends, or only a step boundary (null). */
export interface TimelineEntry {
	readonly timeUs: number;
	readonly event: DrillEvent | { readonly kind: "signalLost" } | null;
	readonly ends: boolean;
}

/** Events that last and change something back when they end; a stall is over by its own clock. */
const LASTING: ReadonlySet<DrillEvent["kind"]> = new Set([
	"torque",
	"force",
	"frozen",
	"glitch",
	"looseLoop",
	"framesLost",
	"servoLoad",
	"stuckGrip",
]);

/** Sorted by time; at one instant ends come before beginnings, otherwise in the drill's own order. */
export function timelineOf(
	drill: Drill,
	boundariesUs: readonly number[],
	signalLostAfterUs: number,
): TimelineEntry[] {
	const entries: TimelineEntry[] = boundariesUs.map((timeUs) => ({ timeUs, event: null, ends: false }));
	const losses: [number, number][] = [];
	for (const event of drill.events) {
		entries.push({ timeUs: Math.round(event.atSec * 1e6), event, ends: false });
		// A step never runs across a point of a measured motion, where its third derivative jumps.
		if (event.kind === "limb")
			for (const [sec] of event.profile ?? [])
				entries.push({ timeUs: Math.round((event.atSec + sec) * 1e6), event: null, ends: false });
		if (!LASTING.has(event.kind) || !("durationSec" in event)) continue;
		const fromUs = Math.round(event.atSec * 1e6);
		const toUs = Math.round((event.atSec + event.durationSec) * 1e6);
		entries.push({ timeUs: toUs, event, ends: true });
		if (event.kind === "framesLost") losses.push([fromUs, toUs]);
	}
	for (const [fromUs, toUs] of merged(losses))
		if (fromUs + signalLostAfterUs < toUs)
			entries.push({ timeUs: fromUs + signalLostAfterUs, event: { kind: "signalLost" }, ends: false });
	return entries.sort((a, b) => a.timeUs - b.timeUs || Number(b.ends) - Number(a.ends));
}

/** First instant at or after `timeUs` on a clock. */
export function gridAfter(timeUs: number, phaseUs: number, periodUs: number): number {
	return phaseUs + Math.max(0, Math.ceil((timeUs - phaseUs) / periodUs)) * periodUs;
}

/** Spans that overlap as one. */
function merged(spans: readonly [number, number][]): [number, number][] {
	const found: [number, number][] = [];
	for (const [from, to] of [...spans].sort((a, b) => a[0] - b[0])) {
		const last = found.at(-1);
		if (last && from < last[1]) last[1] = Math.max(last[1], to);
		else found.push([from, to]);
	}
	return found;
}
