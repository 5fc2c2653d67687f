import { type Contacts, contactForce, pointAt, sound } from "./contact-law.ts";
import { bodyRates, type Kernel } from "./kernel-layout.ts";
import { writeTurn } from "./turn.ts";

/** The feet of one rigid craft. */
export interface Feet extends Contacts {
	/** From the centre of mass, body axes, 3 per foot. */
	readonly arms: Float64Array;
	readonly rates: Float64Array;
}

/** Where every foot of a state is, and how it moves, into feet.at. */
export function place(feet: Feet, kernel: Kernel, x: Float64Array): void {
	const { at, arms, rates } = feet;
	bodyRates(kernel, x, rates);
	writeTurn(x, at);
	for (let foot = 0; foot < feet.count; foot++) {
		const rx = arms[3 * foot]!;
		const ry = arms[3 * foot + 1]!;
		const rz = arms[3 * foot + 2]!;
		const sx = rates[1]! * rz - rates[2]! * ry;
		const sy = rates[2]! * rx - rates[0]! * rz;
		const sz = rates[0]! * ry - rates[1]! * rx;
		const to = pointAt(foot);
		for (let row = 0; row < 3; row++) {
			const a = at[3 * row]!;
			const b = at[3 * row + 1]!;
			const c = at[3 * row + 2]!;
			at[to + row] = x[row]! + a * rx + b * ry + c * rz;
			at[to + 3 + row] = x[3 + row]! + a * sx + b * sy + c * sz;
		}
		sound(feet, foot);
	}
}

/** `load` becomes `outside` and what the ground does to the feet: torque about the centre of mass (body) 3, force (world) 3. */
export function addLoads(
	feet: Feet,
	kernel: Kernel,
	x: Float64Array,
	own: Float64Array,
	outside: Float64Array,
	load: Float64Array,
): void {
	place(feet, kernel, x);
	for (let i = 0; i < 6; i++) load[i] = outside[i]!;
	const { at, arms, force } = feet;
	for (let foot = 0; foot < feet.count; foot++) {
		if (!contactForce(feet, foot, own)) continue;
		const fx = force[0]!;
		const fy = force[1]!;
		const fz = force[2]!;
		load[3]! += fx;
		load[4]! += fy;
		load[5]! += fz;
		const bx = at[0]! * fx + at[3]! * fy + at[6]! * fz;
		const by = at[1]! * fx + at[4]! * fy + at[7]! * fz;
		const bz = at[2]! * fx + at[5]! * fy + at[8]! * fz;
		const rx = arms[3 * foot]!;
		const ry = arms[3 * foot + 1]!;
		const rz = arms[3 * foot + 2]!;
		load[0]! += ry * bz - rz * by;
		load[1]! += rz * bx - rx * bz;
		load[2]! += rx * by - ry * bx;
	}
}
