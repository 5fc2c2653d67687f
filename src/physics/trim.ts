import type { Mixer } from "../control/mixer.ts";
import type { Craft, OperatingPoint } from "../craft/model.ts";
import type { Vec3 } from "../math/types.ts";
import * as vec3 from "../math/vec3.ts";
import { AIR_SIZE } from "./kernel-layout.ts";
import { swings } from "./limb-tree.ts";
import { craftMixer } from "./mixer-at.ts";
import type { Plant } from "./plant.ts";
import { loadsAt, plantWithLoads } from "./plant-at.ts";
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

/** A plant, its trim, and down in body axes there. */
export interface Settled {
	readonly plant: Plant;
	readonly result: TrimResult;
	readonly down: Vec3;
}

/**
 * Plant and trim that agree: a load on a tether, or one that sloshes, hangs along the world's down in the trimmed attitude. Without one the first trim is the answer.
 * Each pass leaves some hundredths of the error before: 20 are enough for any wind that can be trimmed.
 */
export function settle(craft: Craft, point: OperatingPoint, trimFor: (plant: Plant) => TrimResult): Settled {
	const loads = loadsAt(craft, point);
	let down: Vec3 = [0, 0, 1];
	let plant = plantWithLoads(craft, point, loads);
	let result = trimFor(plant);
	for (let pass = 0; pass < 20 && result.feasible && swings(craft, loads); pass++) {
		const [roll, pitch] = result.trim.eulerRad;
		const next: Vec3 = [-Math.sin(pitch), Math.sin(roll) * Math.cos(pitch), Math.cos(roll) * Math.cos(pitch)];
		const moved = vec3.length(vec3.subtract(next, down));
		if (moved < 1e-12) break;
		down = next;
		plant = plantWithLoads(craft, point, loads, down);
		result = trimFor(plant);
	}
	return { plant, result, down };
}
