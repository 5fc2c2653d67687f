import type { AxisName } from "../control/spec.ts";
import type { Drill } from "../flight/drill.ts";
import { errorsOf } from "./fly-json.ts";
import type { FlightJson } from "./json/fly.ts";

/** The axis that the drill steps, else the one that strays furthest. */
export function busiestAxis(result: Pick<FlightJson, "metrics">, drill: Drill): AxisName {
	const stepped = drill.events.find((each) => each.kind === "angle" || each.kind === "rate");
	if (stepped) return stepped.axis;
	const error = (axis: AxisName): number => errorsOf(result.metrics[axis]).iae ?? 0;
	return error("pitch") > error("roll") ? "pitch" : "roll";
}
