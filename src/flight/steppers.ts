import type { Vec3 } from "../math/types.ts";
import { createGround, type Standing } from "../physics/ground.ts";
import { createPivotRig, type Rig } from "../physics/pivot-rig.ts";
import type { Plant } from "../physics/plant.ts";
import { loadsAt } from "../physics/plant-at.ts";
import type { Stepper } from "../physics/stepper.ts";
import { createStringRig } from "../physics/string-rig.ts";
import { LEVEL_GROUND } from "./drill.ts";
import { createLimbFlight, type LimbFlight, movesLimb } from "./limb-flight.ts";
import type { FlightSetup } from "./setup.ts";
import { placeWords } from "./touch-names.ts";
import { wiredPlant } from "./wiring.ts";

/** What holds or touches the craft in this drill; `ground` where feet can meet it, `rig` where one holds it. */
export interface Held {
	readonly stepper: Stepper;
	/** Where the drill moves a limb or something swings. */
	readonly limb: LimbFlight | null;
	readonly ground: Standing | null;
	/** Where in the stepper's own numbers those of the ground begin, and what each contact is called. */
	readonly groundAt: number;
	nameOf(contact: number): string;
	readonly rig: Rig | null;
}

/** A rig where the drill has one, else ground under the feet: what hangs on a rig never touches the ground. */
export function createStepper(setup: FlightSetup, plant: Plant, down: Vec3): Held {
	const { craft, drill, point } = setup;
	const loads = loadsAt(craft, point);
	const nameOf = (foot: number): string => `${placeWords(craft.airframe.feetM[foot]!)} foot`;
	if (movesLimb(craft, drill, loads)) {
		if (drill.rig)
			throw new RangeError(
				`drill '${drill.name}': a limb that moves or a load that swings with a rig, expected none`,
			);
		const limb = createLimbFlight({
			craft,
			point,
			drill,
			loads,
			down,
			wired: (each) => wiredPlant(setup, each),
		});
		return {
			stepper: limb.stepper,
			limb,
			ground: limb,
			groundAt: limb.groundAt,
			nameOf: limb.nameOf,
			rig: null,
		};
	}
	if (drill.rig) {
		const rig =
			drill.rig.kind === "pivot" ? createPivotRig(plant, drill.rig) : createStringRig(plant, drill.rig);
		return { stepper: rig, limb: null, ground: null, groundAt: 0, nameOf, rig };
	}
	const ground = createGround(plant, craft.airframe.feetM, drill.ground ?? LEVEL_GROUND);
	return { stepper: ground, limb: null, ground, groundAt: 0, nameOf, rig: null };
}
