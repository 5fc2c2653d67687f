import { createGround, type Ground } from "../physics/ground.ts";
import type { Plant } from "../physics/plant.ts";
import type { Stepper } from "../physics/stepper.ts";
import { LEVEL_GROUND } from "./drill.ts";
import type { FlightSetup } from "./setup.ts";

/** What holds or touches the craft in this drill; `ground` is the stepper where the feet can meet it. */
export interface Held {
	readonly stepper: Stepper;
	readonly ground: Ground | null;
}

/** A rig where the drill has one, else ground under the feet. */
export function createStepper({ craft, drill }: FlightSetup, plant: Plant): Held {
	if (drill.rig) throw new RangeError(`drill '${drill.name}': rig '${drill.rig.kind}' cannot be flown`);
	const ground = createGround(plant, craft.airframe.feetM, drill.ground ?? LEVEL_GROUND);
	return { stepper: ground, ground };
}
