import * as mat3 from "../math/mat3.ts";
import * as quaternion from "../math/quaternion.ts";
import type { Mat3, Vec3 } from "../math/types.ts";
import * as vec3 from "../math/vec3.ts";
import { MOMENTUM, POSITION, VELOCITY } from "../physics/kernel-layout.ts";
import type { Plant } from "../physics/plant.ts";

/**
 * A load at rest and free becomes part of the craft: airframe position, rotor speeds relative to it, linear and angular
 * momentum of the whole are kept. H about the new centre gains mu (r - c) x (v_load - v), mu = M m/(M + m), v_load = 0.
 */
export function takeUp(before: Plant, after: Plant, loadKg: number, loadM: Vec3, x: Float64Array): void {
	const rotation = attitude(x);
	const share = before.massKg / after.massKg;
	const inBody = mat3.times(mat3.transpose(rotation), velocity(x));
	const reduced = share * loadKg;
	const gained = vec3.cross(vec3.subtract(loadM, before.centreOfMassM), vec3.scale(inBody, -reduced));
	for (let i = 0; i < 3; i++) {
		x[MOMENTUM + i]! += gained[i]!;
		x[VELOCITY + i]! *= share;
	}
	moveCentre(before, after, rotation, x);
}

/** A load leaves with the velocity of its place: the rest goes on turning as it did. `rates` rad/s, body axes. */
export function letGo(before: Plant, after: Plant, rates: Vec3, x: Float64Array): void {
	const rotation = attitude(x);
	const shift = vec3.subtract(after.centreOfMassM, before.centreOfMassM);
	const gained = mat3.times(rotation, vec3.cross(rates, shift));
	const lost = vec3.subtract(mat3.times(after.inertiaKgM2, rates), mat3.times(before.inertiaKgM2, rates));
	for (let i = 0; i < 3; i++) {
		x[VELOCITY + i]! += gained[i]!;
		x[MOMENTUM + i]! += lost[i]!;
	}
	moveCentre(before, after, rotation, x);
}

function moveCentre(before: Plant, after: Plant, rotation: Mat3, x: Float64Array): void {
	const shift = mat3.times(rotation, vec3.subtract(after.centreOfMassM, before.centreOfMassM));
	for (let i = 0; i < 3; i++) x[POSITION + i]! += shift[i]!;
}

const attitude = (x: Float64Array): Mat3 => quaternion.toMatrix([x[6]!, x[7]!, x[8]!, x[9]!]);
const velocity = (x: Float64Array): Vec3 => [x[VELOCITY]!, x[VELOCITY + 1]!, x[VELOCITY + 2]!];
