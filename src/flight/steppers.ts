import { createGround, type Ground } from "../physics/ground.ts";
import { createPivotRig, type Rig } from "../physics/pivot-rig.ts";
import type { Plant } from "../physics/plant.ts";
import type { Stepper } from "../physics/stepper.ts";
import { createStringRig } from "../physics/string-rig.ts";
import { LEVEL_GROUND } from "./drill.ts";
import type { FlightSetup } from "./setup.ts";

/** What holds or touches the craft in this drill; `ground` is the stepper where the feet can meet it, `rig` where one holds it. */
export interface Held {
	readonly stepper: Stepper;
	readonly ground: Ground | null;
	readonly rig: Rig | null;
}

/** A rig where the drill has one, else ground under the feet: what hangs on a rig never touches the ground. */
export function createStepper({ craft, drill }: FlightSetup, plant: Plant): Held {
	if (drill.rig) {
		const rig =
			drill.rig.kind === "pivot" ? createPivotRig(plant, drill.rig) : createStringRig(plant, drill.rig);
		return { stepper: rig, ground: null, rig };
	}
	const ground = createGround(plant, craft.airframe.feetM, drill.ground ?? LEVEL_GROUND);
	return { stepper: ground, ground, rig: null };
}
