import * as mat3 from "../math/mat3.ts";
import type { Mat3, Vec3 } from "../math/types.ts";
import * as vec3 from "../math/vec3.ts";
import { formatQuantity } from "../units/format.ts";
import type { Limb } from "./limb-model.ts";
import type { Craft } from "./model.ts";

/** How near a limb may come to a propeller's disc. */
const LEAST_CLEARANCE_M = 0.01;

/** Where each link stands at a pose: turn (its folded axes to body axes), hinge, tip; body axes. */
export interface LinkPlace {
	readonly turn: Mat3;
	readonly hingeM: Vec3;
	readonly tipM: Vec3;
}

/** Rodrigues' rotation by `angleRad` about a unit vector. */
export function turnAbout([x, y, z]: Vec3, angleRad: number): Mat3 {
	const s = Math.sin(angleRad);
	const c = Math.cos(angleRad);
	const v = 1 - c;
	return [
		c + v * x * x,
		v * x * y - s * z,
		v * x * z + s * y,
		v * x * y + s * z,
		c + v * y * y,
		v * y * z - s * x,
		v * x * z - s * y,
		v * y * z + s * x,
		c + v * z * z,
	];
}

export function linkPlaces(limb: Limb, poseRad: readonly number[]): LinkPlace[] {
	let turn = mat3.diagonal(1, 1, 1);
	let at: Vec3 = [0, 0, 0];
	let from: Vec3 = [0, 0, 0];
	return limb.links.map((link, i) => {
		const hingeM = vec3.add(at, mat3.times(turn, vec3.subtract(link.hingeM, from)));
		turn = mat3.multiply(turn, turnAbout(link.axis, poseRad[i] ?? 0));
		at = hingeM;
		from = link.hingeM;
		return { turn, hingeM, tipM: vec3.add(hingeM, mat3.times(turn, vec3.subtract(link.tipM, link.hingeM))) };
	});
}

/** A point of the last link given folded, at a pose. */
export function gripPlace(limb: Limb, poseRad: readonly number[], foldedM: Vec3 = limb.gripM): Vec3 {
	const places = linkPlaces(limb, poseRad);
	const { turn, hingeM } = places[places.length - 1]!;
	return vec3.add(
		hingeM,
		mat3.times(turn, vec3.subtract(foldedM, limb.links[limb.links.length - 1]!.hingeM)),
	);
}

export interface Clearance {
	/** Least distance to a propeller's disc; below 0: inside. */
	readonly metres: number;
	readonly rotor: string;
	/** 'grip' or the link's name. */
	readonly of: string;
}

/** The nearest the limb comes to any propeller's disc at a pose. */
export function clearanceAt(craft: Craft, poseRad: readonly number[]): Clearance {
	const limb = craft.limb!;
	const places = linkPlaces(limb, poseRad);
	let best: Clearance = { metres: Number.POSITIVE_INFINITY, rotor: "", of: "" };
	for (const rotor of craft.rotors) {
		const near = (from: Vec3, to: Vec3, radius: number, of: string): void => {
			const metres = segmentToDisc(from, to, rotor.positionM, rotor.axis, craft.propulsion.radiusM) - radius;
			if (metres < best.metres) best = { metres, rotor: rotor.place, of };
		};
		places.forEach(({ hingeM, tipM }, i) => {
			near(hingeM, tipM, limb.links[i]!.diameterM / 2, limb.links[i]!.name);
		});
		const grip = gripPlace(limb, poseRad);
		near(grip, grip, limb.gripRadiusM, "grip");
	}
	return best;
}

/** Distance of a point from a disc. */
function pointToDisc(p: Vec3, centre: Vec3, normal: Vec3, radius: number): number {
	const d = vec3.subtract(p, centre);
	const high = d[0] * normal[0] + d[1] * normal[1] + d[2] * normal[2];
	const flat = Math.sqrt(Math.max(0, vec3.length(d) ** 2 - high * high));
	return Math.hypot(high, Math.max(0, flat - radius));
}

/** Least distance of a segment from a disc: a disc is convex, so distance along the segment has one minimum (golden section, to 1e-7 of the length). */
function segmentToDisc(from: Vec3, to: Vec3, centre: Vec3, normal: Vec3, radius: number): number {
	const at = (s: number): number =>
		pointToDisc(vec3.add(from, vec3.scale(vec3.subtract(to, from), s)), centre, normal, radius);
	const golden = (Math.sqrt(5) - 1) / 2;
	let low = 0;
	let high = 1;
	let a = high - golden;
	let b = low + golden;
	let fa = at(a);
	let fb = at(b);
	for (let i = 0; i < 36; i++) {
		if (fa < fb) {
			high = b;
			b = a;
			fb = fa;
			a = high - golden * (high - low);
			fa = at(a);
		} else {
			low = a;
			a = b;
			fa = fb;
			b = low + golden * (high - low);
			fb = at(b);
		}
	}
	return Math.min(fa, fb, at(0), at(1));
}

/** What is wrong with a pose: pairs of where in the list ('' for the whole) and what was expected. */
export function poseProblems(craft: Craft, poseRad: readonly number[]): (readonly [string, string])[] {
	const { limb } = craft;
	if (!limb) return [["", "a craft with a limb (craft.limb)"]];
	if (poseRad.length !== limb.links.length)
		return [["", `${limb.links.length} angles, one per hinge: ${limb.links.map((l) => l.name).join(", ")}`]];
	const problems: (readonly [string, string])[] = [];
	limb.links.forEach(({ name, travelRad }, i) => {
		const angle = poseRad[i]!;
		if (angle < travelRad[0] - 1e-12 || angle > travelRad[1] + 1e-12)
			problems.push([
				`[${i}]`,
				`within the travel of '${name}', ${formatQuantity("angle", travelRad[0])} to ${formatQuantity("angle", travelRad[1])}`,
			]);
	});
	if (problems.length > 0) return problems;
	const { metres, rotor, of } = clearanceAt(craft, poseRad);
	if (metres < LEAST_CLEARANCE_M)
		problems.push([
			"",
			`a pose that stays ${formatQuantity("length", LEAST_CLEARANCE_M)} clear of every propeller; here '${of}' comes within ${formatQuantity("length", Math.max(0, metres))} of the ${rotor} disc`,
		]);
	return problems;
}

/** Where the limb comes too near a propeller on its way between two poses, looked at in steps of 2 degrees; null: nowhere. */
export function wayBlocked(craft: Craft, from: readonly number[], to: readonly number[]): string | null {
	const widest = Math.max(...from.map((a, i) => Math.abs(to[i]! - a)));
	const steps = Math.max(1, Math.ceil(widest / 0.035));
	for (let s = 0; s <= steps; s++) {
		const pose = from.map((a, i) => a + ((to[i]! - a) * s) / steps);
		const { metres, rotor, of } = clearanceAt(craft, pose);
		if (metres < LEAST_CLEARANCE_M)
			return `'${of}' comes within ${(1000 * Math.max(0, metres)).toFixed(0)} mm of the ${rotor} disc`;
	}
	return null;
}
