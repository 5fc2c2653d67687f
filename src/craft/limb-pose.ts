import * as mat3 from "../math/mat3.ts";
import type { Mat3, Vec3 } from "../math/types.ts";
import * as vec3 from "../math/vec3.ts";
import { formatQuantity } from "../units/format.ts";
import type { Limb } from "./limb-model.ts";
import type { Craft } from "./model.ts";

/** How near a limb may come to a propeller's disc. */
export const LEAST_CLEARANCE_M = 0.01;

/** Where each link stands at a pose: turn (its folded axes to body axes), hinge, tip; body axes. */
export interface LinkPlace {
	readonly turn: Mat3;
	readonly hingeM: Vec3;
	readonly tipM: Vec3;
}

/** Rodrigues' rotation by `angleRad` about a unit vector. */
function turnAbout([x, y, z]: Vec3, angleRad: number): Mat3 {
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
	const grip = gripPlace(limb, poseRad);
	const { radiusM } = craft.propulsion;
	let best: Clearance = { metres: Number.POSITIVE_INFINITY, rotor: "", of: "" };
	for (const rotor of craft.rotors) {
		const near = (from: Vec3, to: Vec3, radius: number, of: string): void => {
			if (segmentToBall(from, to, rotor.positionM, radiusM) - radius >= best.metres) return;
			const metres = segmentToDisc(from, to, rotor.positionM, rotor.axis, radiusM) - radius;
			if (metres < best.metres) best = { metres, rotor: rotor.place, of };
		};
		places.forEach(({ hingeM, tipM }, i) => {
			near(hingeM, tipM, limb.links[i]!.diameterM / 2, limb.links[i]!.name);
		});
		near(grip, grip, limb.gripRadiusM, "grip");
	}
	return best;
}

/** Least distance of a segment from a disc: a disc is convex, so distance along the segment has one minimum (golden section, to 1e-7 of the length). */
function segmentToDisc(from: Vec3, to: Vec3, centre: Vec3, normal: Vec3, radius: number): number {
	const along = vec3.subtract(to, from);
	const start = vec3.subtract(from, centre);
	const high = dot(start, normal);
	const rise = dot(along, normal);
	const out2 = dot(start, start);
	const outAlong = dot(start, along);
	const along2 = dot(along, along);
	const at = (s: number): number => {
		const h = high + s * rise;
		const flat = Math.sqrt(Math.max(0, out2 + s * (2 * outAlong + s * along2) - h * h)) - radius;
		return flat > 0 ? Math.sqrt(h * h + flat * flat) : Math.abs(h);
	};
	const golden = (Math.sqrt(5) - 1) / 2;
	let low = 0;
	let high1 = 1;
	let a = high1 - golden;
	let b = low + golden;
	let fa = at(a);
	let fb = at(b);
	for (let i = 0; i < 36; i++) {
		if (fa < fb) {
			high1 = b;
			b = a;
			fb = fa;
			a = high1 - golden * (high1 - low);
			fa = at(a);
		} else {
			low = a;
			a = b;
			fa = fb;
			b = low + golden * (high1 - low);
			fb = at(b);
		}
	}
	return Math.min(fa, fb, at(0), at(1));
}

/** No segment is nearer to a disc than to the ball about it. */
function segmentToBall(from: Vec3, to: Vec3, centre: Vec3, radius: number): number {
	const along = vec3.subtract(to, from);
	const start = vec3.subtract(centre, from);
	const along2 = dot(along, along);
	const s = along2 > 0 ? Math.max(0, Math.min(1, dot(start, along) / along2)) : 0;
	return vec3.length(vec3.subtract(start, vec3.scale(along, s))) - radius;
}

const dot = (a: Vec3, b: Vec3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

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
