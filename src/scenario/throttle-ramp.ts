import type { DrillEvent } from "../flight/drill.ts";
import type { DrillInput } from "./drill-schema.ts";

type EventInput = NonNullable<DrillInput["events"]>[number];

const RAMP_STEP_SEC = 0.01;

/** A throttle at once, or raised evenly in steps of 10 ms from what it was before. `now` is what it becomes. */
export function raise(
	{ at, throttle, over }: Extract<EventInput, { kind: "throttle" }>,
	now: { throttle: number; ofHover: number },
): DrillEvent[] {
	const to =
		typeof throttle === "number" ? { throttle, ofHover: 0 } : { throttle: 0, ofHover: throttle.ofHover };
	const from = { ...now };
	Object.assign(now, to);
	const steps = Math.max(1, Math.round((over ?? 0) / RAMP_STEP_SEC));
	return Array.from({ length: steps }, (_, i): DrillEvent => {
		const share = (i + 1) / steps;
		const mixed = (a: number, b: number): number => a + share * (b - a);
		const ofHover = mixed(from.ofHover, to.ofHover);
		return {
			atSec: at + share * (over ?? 0),
			kind: "throttle",
			throttle: mixed(from.throttle, to.throttle),
			...(ofHover === 0 ? {} : { ofHover }),
		};
	});
}
