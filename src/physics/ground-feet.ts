import { bodyRates, type Kernel } from "./kernel-layout.ts";
import { writeTurn } from "./turn.ts";

/**
 * Numbers a ground keeps in a flight's state, `own`: fastest arrival of a foot so far (m/s) and that foot's index, feet that touched
 * last as bits, seconds since one touched; then FOOT_STRIDE per foot: where its friction is anchored (world 3), 1 while it
 * touches, and how hard it is held to the ground (N, 0: not).
 */
export const OWN_ARRIVAL = 0;
export const OWN_ARRIVED = 1;
export const OWN_LAST = 2;
export const OWN_SINCE = 3;
export const OWN_FEET = 4;
export const FOOT_STRIDE = 5;
export const FOOT_TOUCHES = 3;
export const FOOT_HELD = 4;

/** The feet of one craft on one plane. Forces along n: k depth + c depth', never pulling unless held; along the plane: a bristle k stretch + c v from
 * the foot's anchor, no more than friction times the normal force (plus what holds it). */
export interface Feet {
	readonly count: number;
	/** From the centre of mass, body axes, 3 per foot. */
	readonly arms: Float64Array;
	readonly normal: Float64Array;
	/** Of one foot: N/m and N s/m. */
	readonly stiffness: number;
	readonly damping: number;
	readonly friction: number;
	/** Of `place`: rotation body to world 9, rates 3, then per foot position 3, velocity 3, depth, its rate. */
	readonly at: Float64Array;
	readonly rates: Float64Array;
}

const PER_FOOT = 8;
const FIRST = 9;
export const DEPTH = 6;
export const DEPTH_RATE = 7;
export const footAt = (i: number): number => FIRST + PER_FOOT * i;
export const placesSize = (count: number): number => FIRST + PER_FOOT * count;

/** Where every foot of a state is, and how it moves, into feet.at. */
export function place(feet: Feet, kernel: Kernel, x: Float64Array): void {
	const { at, arms, normal, rates } = feet;
	bodyRates(kernel, x, rates);
	writeTurn(x, at);
	for (let foot = 0; foot < feet.count; foot++) {
		const rx = arms[3 * foot]!;
		const ry = arms[3 * foot + 1]!;
		const rz = arms[3 * foot + 2]!;
		const sx = rates[1]! * rz - rates[2]! * ry;
		const sy = rates[2]! * rx - rates[0]! * rz;
		const sz = rates[0]! * ry - rates[1]! * rx;
		const to = FIRST + PER_FOOT * foot;
		let depth = 0;
		let rate = 0;
		for (let row = 0; row < 3; row++) {
			const a = at[3 * row]!;
			const b = at[3 * row + 1]!;
			const c = at[3 * row + 2]!;
			const position = x[row]! + a * rx + b * ry + c * rz;
			const velocity = x[3 + row]! + a * sx + b * sy + c * sz;
			at[to + row] = position;
			at[to + 3 + row] = velocity;
			depth -= normal[row]! * position;
			rate -= normal[row]! * velocity;
		}
		at[to + DEPTH] = depth;
		at[to + DEPTH_RATE] = rate;
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
	const { at, arms, normal, stiffness, damping, friction } = feet;
	const nx = normal[0]!;
	const ny = normal[1]!;
	const nz = normal[2]!;
	for (let foot = 0; foot < feet.count; foot++) {
		const from = FIRST + PER_FOOT * foot;
		const mine = OWN_FEET + FOOT_STRIDE * foot;
		const touches = own[mine + FOOT_TOUCHES]! > 0;
		const held = touches ? own[mine + FOOT_HELD]! : 0;
		const depth = at[from + DEPTH]!;
		const rate = at[from + DEPTH_RATE]!;
		if (!(depth > 0) && !(held > 0)) continue;
		let push = stiffness * depth + damping * rate;
		if (push < 0 && !(held > 0)) push = 0;
		const limit = friction * Math.max(push, 0) + held;
		let tx = damping * (at[from + 3]! + rate * nx);
		let ty = damping * (at[from + 4]! + rate * ny);
		let tz = damping * (at[from + 5]! + rate * nz);
		if (touches) {
			const sx = at[from]! - own[mine]!;
			const sy = at[from + 1]! - own[mine + 1]!;
			const sz = at[from + 2]! - own[mine + 2]!;
			const along = sx * nx + sy * ny + sz * nz;
			tx += stiffness * (sx - along * nx);
			ty += stiffness * (sy - along * ny);
			tz += stiffness * (sz - along * nz);
		}
		const size = Math.sqrt(tx * tx + ty * ty + tz * tz);
		const share = size > limit ? limit / size : 1;
		const fx = push * nx - share * tx;
		const fy = push * ny - share * ty;
		const fz = push * nz - share * tz;
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

/**
 * After a step: feet that came down are anchored where they are, anchors of sliding feet are dragged along until the bristle bears no more than
 * friction does, feet that left let go. `before`: depth' of each foot at the step's start, which is how fast it arrived.
 */
export function settleFeet(
	feet: Feet,
	kernel: Kernel,
	x: Float64Array,
	own: Float64Array,
	before: Float64Array,
): void {
	place(feet, kernel, x);
	const { at, normal, stiffness, damping, friction } = feet;
	let touching = 0;
	for (let foot = 0; foot < feet.count; foot++) {
		const from = FIRST + PER_FOOT * foot;
		const mine = OWN_FEET + FOOT_STRIDE * foot;
		const depth = at[from + DEPTH]!;
		const pull = -(stiffness * depth + damping * at[from + DEPTH_RATE]!);
		const touched = own[mine + FOOT_TOUCHES]! > 0;
		if (touched && own[mine + FOOT_HELD]! > 0 && pull > own[mine + FOOT_HELD]!) own[mine + FOOT_HELD] = 0;
		const held = touched ? own[mine + FOOT_HELD]! : 0;
		if (!(depth > 0) && !(held > 0)) {
			own[mine + FOOT_TOUCHES] = 0;
			continue;
		}
		touching |= 1 << foot;
		if (!touched) {
			own[mine + FOOT_TOUCHES] = 1;
			for (let i = 0; i < 3; i++) own[mine + i] = at[from + i]!;
			if (before[foot]! > own[OWN_ARRIVAL]!) {
				own[OWN_ARRIVAL] = before[foot]!;
				own[OWN_ARRIVED] = foot;
			}
			continue;
		}
		let sx = at[from]! - own[mine]!;
		let sy = at[from + 1]! - own[mine + 1]!;
		let sz = at[from + 2]! - own[mine + 2]!;
		const along = sx * normal[0]! + sy * normal[1]! + sz * normal[2]!;
		sx -= along * normal[0]!;
		sy -= along * normal[1]!;
		sz -= along * normal[2]!;
		const stretch = Math.sqrt(sx * sx + sy * sy + sz * sz);
		const most = (friction * (pull < 0 ? -pull : 0) + held) / stiffness;
		if (stretch > most) {
			const keep = most / stretch;
			own[mine] = at[from]! - keep * sx;
			own[mine + 1] = at[from + 1]! - keep * sy;
			own[mine + 2] = at[from + 2]! - keep * sz;
		}
	}
	if (touching !== 0) own[OWN_LAST] = touching;
}

/** What the feet's springs and bristles hold, J. */
export function storedEnergy(feet: Feet, kernel: Kernel, x: Float64Array, own: Float64Array): number {
	place(feet, kernel, x);
	let sum = 0;
	for (let foot = 0; foot < feet.count; foot++) {
		const mine = OWN_FEET + FOOT_STRIDE * foot;
		if (!(own[mine + FOOT_TOUCHES]! > 0)) continue;
		const from = footAt(foot);
		const depth = feet.at[from + DEPTH]!;
		const s = [0, 1, 2].map((i) => feet.at[from + i]! - own[mine + i]!);
		const along = s.reduce((a, v, i) => a + v * feet.normal[i]!, 0);
		const flat = s.reduce((a, v) => a + v * v, 0) - along * along;
		sum += 0.5 * feet.stiffness * (depth * depth + flat);
	}
	return sum;
}
