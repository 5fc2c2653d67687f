import type { Mixer } from "../control/mixer.ts";
import type { Craft, OperatingPoint } from "../craft/model.ts";
import type { Vec3 } from "../math/types.ts";
import * as vec3 from "../math/vec3.ts";
import { type HeldLimb, heldLimb } from "./held-limb.ts";
import { AIR_SIZE, createKernel } from "./kernel-layout.ts";
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
	/** What the air does to limb and hanging load; default nothing. */
	readonly held?: HeldLimb | null;
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
		held: place.held ?? null,
	});
}

/** The kernel's air array of an operating point's own wind, everywhere. */
export function steadyAir(point: OperatingPoint): Float64Array {
	const air = new Float64Array(AIR_SIZE);
	for (let i = 0; i < 9; i++) air[i] = point.windMPerSec[i % 3]!;
	return air;
}

/** A plant, its trim, what the air does to limb and load there, and the way a load hangs, body axes. */
export interface Settled {
	readonly plant: Plant;
	readonly result: TrimResult;
	readonly held: HeldLimb | null;
	readonly down: Vec3;
}

/**
 * Plant and trim that agree: a load on a tether, or one that sloshes, hangs along its weight and what blows on it in the trimmed attitude. Without one the first trim is the answer.
 * Each pass leaves some hundredths of the error before: 20 are enough for any wind that can be trimmed. `air`: that of the trims, default the point's wind.
 */
export function settle(
	craft: Craft,
	point: OperatingPoint,
	trimFor: (plant: Plant, held: HeldLimb | null) => TrimResult,
	air = steadyAir(point),
): Settled {
	const loads = loadsAt(craft, point);
	let down: Vec3 = [0, 0, 1];
	let plant = plantWithLoads(craft, point, loads);
	let held = heldLimb(craft, point, loads);
	let result = trimFor(plant, held);
	for (let pass = 0; pass < 20 && held && result.feasible && swings(craft, loads); pass++) {
		const next = held.hangsAlong(createKernel(plant), result.trim.state, air);
		const moved = vec3.length(vec3.subtract(next, down));
		if (moved < 1e-12) break;
		down = next;
		plant = plantWithLoads(craft, point, loads, down);
		held = heldLimb(craft, point, loads, down);
		result = trimFor(plant, held);
	}
	return { plant, result, held, down };
}
