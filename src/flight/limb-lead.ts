import { IN } from "../control/signals.ts";
import type { Craft, OperatingPoint } from "../craft/model.ts";
import type { Plant } from "../physics/plant.ts";
import { trimAt } from "../physics/trim.ts";
import type { LimbFlight } from "./limb-flight.ts";
import { KNOWN } from "./load-known.ts";
import type { FlightSetup } from "./setup.ts";
import type { Start } from "./start.ts";

/** Of the centre of mass, for the slope of the trim: m. */
const SHIFT_M = 0.005;

/**
 * What the firmware may know beforehand: where its own limb and load put the centre of mass asks for u of roll and pitch. Writes the share of it that the gain set
 * gives (`limbLead`) into a controller's input: u per kg m of moment at hover, times the moment gained since the flight began. The firmware is taken to know how
 * its servos move, and what it carries unless that left unnoticed (`load-known.ts`). Null where nothing is given beforehand, or the craft cannot be trimmed. Writing allocates nothing.
 */
export function createLimbLead(
	{ craft, point, gainSet }: FlightSetup,
	start: Start,
	limb: LimbFlight | null,
	known: Float64Array,
): ((input: Float64Array) => void) | null {
	const share = gainSet.limbLead ?? 0;
	if (!limb || share === 0 || start.noTrim !== "") return null;
	const { plant } = start;
	const slopes = Float64Array.from(trimSlopes(craft, plant, point));
	const [x0, y0] = [plant.massKg * plant.centreOfMassM[0], plant.massKg * plant.centreOfMassM[1]];
	return (input) => {
		input[IN.lead] = share * slopes[0]! * (limb.massKg * limb.centreM[1] + known[KNOWN.moment + 1]! - y0);
		input[IN.lead + 1] = share * slopes[1]! * (limb.massKg * limb.centreM[0] + known[KNOWN.moment]! - x0);
	};
}

/** u of roll per kg m that the centre of mass has moved to the right, u of pitch per kg m forward, in hover; 0 where there is no trim. */
export function trimSlopes(craft: Craft, plant: Plant, point: OperatingPoint): [number, number] {
	const slope = (axis: 0 | 1): number => {
		const along = axis === 0 ? 1 : 0;
		const [a, b] = [-SHIFT_M, SHIFT_M].map((shift) => {
			const found = trimAt(craft, shifted(plant, along, shift), point);
			return found.feasible ? found.trim.u[axis] : null;
		});
		return a == null || b == null ? 0 : (b - a) / (2 * SHIFT_M * plant.massKg);
	};
	return [slope(0), slope(1)];
}

function shifted(plant: Plant, along: 0 | 1, by: number): Plant {
	const [x, y, z] = plant.centreOfMassM;
	return { ...plant, centreOfMassM: along === 0 ? [x + by, y, z] : [x, y + by, z] };
}
