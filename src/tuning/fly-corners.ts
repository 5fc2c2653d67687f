import type { AxisName, GainSet } from "../control/spec.ts";
import type { Craft } from "../craft/model.ts";
import type { FlightStatus } from "../flight/result.ts";
import type { TuneCorner } from "./result.ts";

/** A gain set flown in one corner: a step on one axis, full simulator. */
export interface FlownCorner {
	readonly corner: string;
	readonly axis: AxisName;
	readonly status: FlightStatus;
	readonly reason: string;
	/** Of the set-point step, in per cent; null where the flight ended early. */
	readonly overshootPct: number | null;
	readonly predictedOvershootPct: number;
	/** IAE of the set-point step, rad s (yaw: rad). */
	readonly iae: number | null;
	readonly predictedIae: number;
}

/** Flies a step on every axis in every corner. */
export function flyCorners(
	craft: Craft,
	set: GainSet,
	corners: readonly TuneCorner[],
): readonly FlownCorner[] {
	throw new Error(`flyCorners: not written yet (${craft.name}, ${set.name}, ${corners.length})`);
}
