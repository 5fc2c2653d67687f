import { axisPlantsOf } from "../analysis/axis-plants.ts";
import { closeLoop } from "../analysis/closed-loop.ts";
import { axisFlightMetrics } from "../analysis/flight-metrics.ts";
import { linearise } from "../analysis/linearise.ts";
import { timingChain } from "../analysis/timing-chain.ts";
import { AXES, type AxisName, type GainSet } from "../control/spec.ts";
import type { Craft } from "../craft/model.ts";
import { type Drill, STILL_AIR } from "../flight/drill.ts";
import { fly } from "../flight/engine.ts";
import type { FlightStatus } from "../flight/result.ts";
import { gainsAt } from "../physics/gains-at.ts";
import type { TuneCorner } from "./result.ts";
import { stepCosts } from "./step-cost.ts";

/** A gain set flown in one corner: a step on one axis, full simulator. */
export interface FlownCorner {
	readonly corner: string;
	readonly axis: AxisName;
	readonly status: FlightStatus;
	readonly reason: string;
	/** Of the set-point step, in per cent; null where the flight ended early. */
	readonly overshootPct: number | null;
	readonly predictedOvershootPct: number;
	/** IAE of the set-point step over the flight, rad s (yaw: rad). */
	readonly iae: number | null;
	readonly predictedIae: number;
	/** False where motors stand at their upper end (full throttle): they clip, which the prediction leaves out. */
	readonly comparable: boolean;
}

const STEP_AT = 0.5;
const DURATION = 3;
/** Small enough that no limit acts: 5 degrees, yaw 10 degrees a second. */
const ANGLE_STEP = (5 * Math.PI) / 180;
const RATE_STEP = (10 * Math.PI) / 180;
const HEIGHT_M = 200;

/** A small set-point step on one axis, far from the ground, in still air. */
function stepDrill(axis: AxisName): Drill {
	return {
		name: `${axis} step`,
		about: "a small set-point step, to hold the linear prediction against",
		durationSec: DURATION,
		heightM: HEIGHT_M,
		seed: 1,
		events: [
			axis === "yaw"
				? { atSec: STEP_AT, kind: "rate", axis, rateRadPerSec: RATE_STEP }
				: { atSec: STEP_AT, kind: "angle", axis, angleRad: ANGLE_STEP },
		],
		wind: STILL_AIR,
	};
}

/**
 * Flies a step on every axis in every corner, without noise and rounding, and sets the linear prediction beside it. The prediction
 * has one motor lag and neither saturates nor couples, so that the two differ by a few per cent of the step.
 */
export function flyCorners(
	craft: Craft,
	set: GainSet,
	corners: readonly TuneCorner[],
): readonly FlownCorner[] {
	const chain = timingChain(craft.timing);
	return corners.flatMap(({ name, point }) => {
		const found = linearise(craft, point);
		if (!found.feasible) return [];
		const plants = axisPlantsOf(found.linear, chain);
		return AXES.map((axis): FlownCorner => {
			const drill = stepDrill(axis);
			const flight = fly({ craft, point, gainSet: set, drill, options: { noise: false, rounding: false } });
			const metrics = axisFlightMetrics(flight, drill, axis, set.structure);
			const { setPoint } = stepCosts(
				closeLoop(plants[axis], gainsAt(craft, set, point)),
				DURATION - STEP_AT,
				1,
			);
			return {
				corner: name,
				axis,
				status: flight.status,
				reason: flight.reason,
				overshootPct: metrics.overshootPct.value,
				predictedOvershootPct: 100 * setPoint.overshoot,
				iae: metrics.iae.value,
				comparable: point.throttle !== "full",
				predictedIae: setPoint.iae * (axis === "yaw" ? RATE_STEP : ANGLE_STEP),
			};
		});
	});
}
