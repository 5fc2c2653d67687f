import { linkPlaces } from "../craft/limb-pose.ts";
import type { Craft, Load } from "../craft/model.ts";
import * as mat3 from "../math/mat3.ts";
import type { Mat3, Vec3 } from "../math/types.ts";
import * as vec3 from "../math/vec3.ts";
import type { LimbContact } from "./limb-ground.ts";
import type { CarriedLoad, LimbTree } from "./limb-tree.ts";

/** A point that may touch, and what a person calls it. */
export interface NamedContact extends LimbContact {
	readonly name: string;
}

const WATER_KG_PER_M3 = 1000;

/** Edge of the cube that a load is taken for; as dense as water where nothing is known. */
export const loadSizeM = ({ sizeM, massKg }: Load): number => sizeM ?? Math.cbrt(massKg / WATER_KG_PER_M3);

/** How far from its middle a load may be held when it is taken up from the ground: half its size, or the grip's own room. */
export const reachM = ({ limb, load }: Craft, inGrip: boolean): number =>
	Math.max(loadSizeM(load) / 2, inGrip && limb ? limb.gripRadiusM : 0);

/** Points that one load's cube may touch with. */
export const LOAD_CONTACTS = 8;

const contactName = {
	link: (name: string): string => `end of '${name}'`,
	grip: "grip",
	load: "load",
} as const;

/** The far end of each link and the grip: points on the links' middle lines, their thickness left out. */
export function limbContacts({ limb }: Craft): NamedContact[] {
	if (!limb) return [];
	const ends = limb.links.map(({ name, tipM }, body) => ({
		name: contactName.link(name),
		body,
		placeM: tipM,
	}));
	return [...ends, { name: contactName.grip, body: limb.links.length - 1, placeM: limb.gripM }];
}

/** The corners of load `index` of those on a tree, a cube: on a tether its bob's, else fixed where it is held. */
export function loadContacts(
	{ limb, load }: Craft,
	{ tree }: LimbTree,
	each: CarriedLoad,
	index: number,
	poseRad: readonly number[],
): NamedContact[] {
	const links = limb?.links.length ?? 0;
	const held = each.inGrip && limb ? links - 1 : -1;
	const body = load.tether ? links + 2 * index + 1 : held;
	const middle = load.tether ? tree.bodies[body]!.mass.centreOfMassM : each.positionM;
	// A bob hangs with its edges along the airframe's axes.
	const hung: Mat3 =
		load.tether && held >= 0 && limb
			? mat3.transpose(linkPlaces(limb, poseRad)[held]!.turn)
			: mat3.diagonal(1, 1, 1);
	const turn = each.turn ?? hung;
	const half = loadSizeM(load) / 2;
	return Array.from({ length: LOAD_CONTACTS }, (_, k) => {
		const corner: Vec3 = [k & 1 ? half : -half, k & 2 ? half : -half, k & 4 ? half : -half];
		return { name: contactName.load, body, placeM: vec3.add(middle, mat3.times(turn, corner)) };
	});
}
