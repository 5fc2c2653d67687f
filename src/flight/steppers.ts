import type { Plant } from "../physics/plant.ts";
import type { Stepper } from "../physics/stepper.ts";
import type { FlightSetup } from "./setup.ts";

/** What holds or touches the craft in this drill; null: free air is all there is. */
export function createStepper({ drill }: FlightSetup, _plant: Plant): Stepper | null {
	if (drill.rig) throw new RangeError(`drill '${drill.name}': rig '${drill.rig.kind}' cannot be flown`);
	return null;
}
