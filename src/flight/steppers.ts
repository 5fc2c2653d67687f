import type { Vec3 } from "../math/types.ts";
import { createGround, type Ground } from "../physics/ground.ts";
import { createPivotRig, type Rig } from "../physics/pivot-rig.ts";
import type { Plant } from "../physics/plant.ts";
import { loadsAt } from "../physics/plant-at.ts";
import type { Stepper } from "../physics/stepper.ts";
import { createStringRig } from "../physics/string-rig.ts";
import { LEVEL_GROUND } from "./drill.ts";
import { createLimbFlight, type LimbFlight, movesLimb } from "./limb-flight.ts";
import type { FlightSetup } from "./setup.ts";
import { wiredPlant } from "./wiring.ts";

/** What holds or touches the craft in this drill; `ground` is the stepper where the feet can meet it, `rig` where one holds it. */
export interface Held {
	readonly stepper: Stepper;
	/** Where the drill moves a limb or something swings. */
	readonly limb: LimbFlight | null;
	readonly ground: Ground | null;
	readonly rig: Rig | null;
}

/** A rig where the drill has one, else ground under the feet: what hangs on a rig never touches the ground. */
export function createStepper(setup: FlightSetup, plant: Plant, down: Vec3): Held {
	const { craft, drill, point } = setup;
	const loads = loadsAt(craft, point);
	if (movesLimb(craft, drill, loads)) {
		if (drill.rig || drill.start === "ground")
			throw new RangeError(
				`drill '${drill.name}': a limb that moves or a load that swings with ${drill.rig ? "a rig" : "start 'ground'"}, expected neither`,
			);
		const limb = createLimbFlight({
			craft,
			point,
			drill,
			loads,
			down,
			wired: (each) => wiredPlant(setup, each),
		});
		return { stepper: limb.stepper, limb, ground: null, rig: null };
	}
	if (drill.rig) {
		const rig =
			drill.rig.kind === "pivot" ? createPivotRig(plant, drill.rig) : createStringRig(plant, drill.rig);
		return { stepper: rig, limb: null, ground: null, rig };
	}
	const ground = createGround(plant, craft.airframe.feetM, drill.ground ?? LEVEL_GROUND);
	return { stepper: ground, limb: null, ground, rig: null };
}
