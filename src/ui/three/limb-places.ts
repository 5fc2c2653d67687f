import type { LimbInput } from "../../craft/input.ts";
import { gripPlace, linkPlaces } from "../../craft/limb-pose.ts";
import type { Craft } from "../../craft/model.ts";
import * as mat3 from "../../math/mat3.ts";
import type { Mat3, Vec3 } from "../../math/types.ts";
import * as vec3 from "../../math/vec3.ts";
import type { CarriedLoad } from "../../physics/limb-tree.ts";

/** A round bar between two points, body axes. */
export interface Bar {
	readonly fromM: Vec3;
	readonly toM: Vec3;
	readonly radiusM: number;
}

/** Where the limb is drawn at a pose. */
export interface LimbPlaces {
	/** One per link, hinge to tip. */
	readonly tubes: readonly Bar[];
	/** One per hinge, along its axis. */
	readonly pins: readonly Bar[];
	readonly gripM: Vec3;
	/** The last link's folded axes to body axes. */
	readonly turn: Mat3;
}

/** @throws RangeError for a craft without a limb. */
export function limbPlaces({ limb }: Craft, poseRad: readonly number[]): LimbPlaces {
	if (!limb) throw new RangeError("limbPlaces: a craft without a limb, expected one with craft.limb");
	const places = linkPlaces(limb, poseRad);
	return {
		tubes: places.map(({ hingeM, tipM }, i) => ({
			fromM: hingeM,
			toM: tipM,
			radiusM: limb.links[i]!.diameterM / 2,
		})),
		pins: places.map(({ hingeM, turn }, i) => {
			const thinner = Math.min(limb.links[i]!.diameterM, limb.links[i - 1]?.diameterM ?? 1);
			const along = vec3.scale(mat3.times(turn, limb.links[i]!.axis), thinner);
			return { fromM: vec3.subtract(hingeM, along), toM: vec3.add(hingeM, along), radiusM: 0.65 * thinner };
		}),
		gripM: gripPlace(limb, poseRad),
		turn: places[places.length - 1]!.turn,
	};
}

/** Where a load is drawn: on a tether it hangs along `hang` (body axes) from where it is held, and turns with its cord. */
export interface LoadPlace {
	readonly heldM: Vec3;
	readonly middleM: Vec3;
	readonly turn: Mat3;
	/** How the level of a liquid that sloshes stands; null for any other load. */
	readonly level: Mat3 | null;
}

export function loadPlace(
	craft: Craft,
	{ positionM, inGrip }: CarriedLoad,
	poseRad: readonly number[],
	hang: Vec3,
): LoadPlace {
	const { limb, load } = craft;
	const gripped = inGrip && limb;
	const heldM = gripped ? gripPlace(limb, poseRad, positionM) : positionM;
	const turn = gripped ? limbPlaces(craft, poseRad).turn : mat3.diagonal(1, 1, 1);
	return {
		heldM,
		middleM: load.tether ? vec3.add(heldM, vec3.scale(hang, load.tether.lengthM)) : heldM,
		turn: load.tether ? turnTo(hang) : turn,
		// The pendulum stands square to the level of what it stands for.
		level: load.liquid ? turnTo(hang) : null,
	};
}

/** The least turn that brings straight down in body axes to a unit vector. */
function turnTo([x, y, z]: Vec3): Mat3 {
	if (z < -1 + 1e-9) return mat3.diagonal(1, -1, -1);
	const k = 1 / (1 + z);
	return [1 - k * x * x, -k * x * y, x, -k * x * y, 1 - k * y * y, y, -x, -y, z];
}

/** How far below where it is held a load of the craft can hang. */
export const hangReachM = ({ load }: Craft, loads: readonly CarriedLoad[]): number =>
	loads.length > 0 ? (load.tether?.lengthM ?? 0) : 0;

/** Edge of the cube that a load is drawn as: the one its inertia has, else one as dense as water. */
export function loadEdgeM(craft: Craft, { massKg }: CarriedLoad): number {
	const inertia = craft.load.inertiaKgM2[0];
	return craft.load.massKg > 0 && inertia > 0
		? Math.sqrt((6 * inertia) / craft.load.massKg)
		: Math.cbrt(massKg / 1000);
}

/** How far the limb gets from a point, stretched out. */
export function limbReachM({ limb }: Craft, from: Vec3): number {
	if (!limb) return 0;
	const first = vec3.length(vec3.subtract(limb.links[0]!.hingeM, from));
	return limb.links.reduce((sum, { hingeM, tipM }) => sum + vec3.length(vec3.subtract(tipM, hingeM)), first);
}

/** Parts that do not move with a link: what moves is drawn as the link. */
export function fixedParts<P extends { readonly name: string }>(
	parts: readonly P[],
	document: unknown,
): readonly P[] {
	const { craft } = document as { readonly craft?: { readonly limb?: Pick<LimbInput, "links"> } };
	const moving = new Set(craft?.limb?.links.flatMap((link) => link.parts ?? []));
	return moving.size === 0 ? parts : parts.filter(({ name }) => !moving.has(name));
}
