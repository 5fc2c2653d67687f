import type { Mixer } from "../control/mixer.ts";
import type { Craft, OperatingPoint } from "../craft/model.ts";
import { AIR_SIZE } from "./kernel-layout.ts";
import { craftMixer } from "./mixer-at.ts";
import type { Plant } from "./plant.ts";
import { solveTrim, type TrimResult } from "./trim-solver.ts";

export type { Trim, TrimResult } from "./trim-solver.ts";

export interface TrimPlace {
	/** Feet above ground; default far from it. */
	readonly heightM?: number;
	/** The kernel's air array; default the operating point's wind everywhere. */
	readonly air?: Float64Array;
	/** Default `craftMixer(craft)`; pass it when trimming often. */
	readonly mixer?: Mixer;
}

const FAR_FROM_GROUND_M = 1000;

/**
 * Steady flight of a craft at an operating point, with `plant` from `plantAt(craft, point)`: hover in the point's wind, or the
 * steady climb that a given throttle makes. Infeasible points say why.
 */
export function trimAt(craft: Craft, plant: Plant, point: OperatingPoint, place: TrimPlace = {}): TrimResult {
	return solveTrim({
		plant,
		mixer: place.mixer ?? craftMixer(craft),
		lowestSpin: craft.mixer.lowestSpin,
		rotorPlaces: craft.rotors.map((r) => r.place),
		throttle: point.throttle,
		heightM: place.heightM ?? FAR_FROM_GROUND_M,
		air: place.air ?? steadyAir(point),
	});
}

function steadyAir(point: OperatingPoint): Float64Array {
	const air = new Float64Array(AIR_SIZE);
	for (let i = 0; i < 9; i++) air[i] = point.windMPerSec[i % 3]!;
	return air;
}
