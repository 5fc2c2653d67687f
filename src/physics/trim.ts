import type { Mixer } from "../control/mixer.ts";
import type { Craft, OperatingPoint } from "../craft/model.ts";
import { limbAmperes } from "../craft/servo-current.ts";
import type { Vec3 } from "../math/types.ts";
import * as vec3 from "../math/vec3.ts";
import { type HeldLimb, heldLimb } from "./held-limb.ts";
import { createKernel } from "./kernel-layout.ts";
import { swings } from "./limb-tree.ts";
import { craftMixer } from "./mixer-at.ts";
import type { Plant } from "./plant.ts";
import { loadsAt, plantWithLoads } from "./plant-at.ts";
import { servoTorquesAt } from "./servo-torque.ts";
import { steadyAir } from "./steady-air.ts";
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

/** A plant, its trim, what the air does to limb and load there, the way a load hangs, body axes, and the torque that each link's servo holds its pose with. */
export interface Settled {
	/** What its servos take is among the electronics' power. */
	readonly plant: Plant;
	readonly result: TrimResult;
	readonly held: HeldLimb | null;
	readonly down: Vec3;
	/** Empty where it cannot hover. */
	readonly servoNm: readonly number[];
}

/**
 * Plant and trim that agree: a load on a tether, or one that sloshes, hangs along its weight and what blows on it in the trimmed attitude, and servos take from the battery what holding
 * the pose asks for. Without limb and hanging load the first trim is the answer. Each pass leaves some hundredths of the error before: 20 are enough for any wind that can be trimmed. `air`:
 * that of the trims, default the point's wind.
 */
export function settle(
	craft: Craft,
	point: OperatingPoint,
	trimFor: (plant: Plant, held: HeldLimb | null) => TrimResult,
	air = steadyAir(point),
): Settled {
	const loads = loadsAt(craft, point);
	const links = craft.limb?.links ?? [];
	let down: Vec3 = [0, 0, 1];
	let servoNm: readonly number[] = [];
	let servosA = 0;
	let bare = plantWithLoads(craft, point, loads);
	let plant = bare;
	let held = heldLimb(craft, point, loads);
	let result = trimFor(plant, held);
	for (let pass = 0; pass < 20 && held && result.feasible; pass++) {
		const { trim } = result;
		const next = swings(craft, loads) ? held.hangsAlong(createKernel(plant), trim.state, air) : down;
		servoNm = servoTorquesAt(craft, point, { plant, trim, down, air });
		const amperes = limbAmperes(links, servoNm);
		const moved = vec3.length(vec3.subtract(next, down));
		if (moved < 1e-12 && Math.abs(amperes - servosA) < 1e-9) break;
		servosA = amperes;
		if (moved > 0) {
			down = next;
			bare = plantWithLoads(craft, point, loads, down);
			held = heldLimb(craft, point, loads, down);
		}
		plant = { ...bare, avionicsPowerW: bare.avionicsPowerW + servosA * craft.supply.outputV };
		result = trimFor(plant, held);
	}
	return { plant, result, held, down, servoNm: result.feasible ? servoNm : [] };
}
