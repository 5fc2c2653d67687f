/**
 * Numbers that contacts keep in a flight's state, `own`, from `Contacts.ownAt`: fastest arrival of one so far (m/s) and its index, those that touched
 * last as bits, seconds since one touched; then FOOT_STRIDE per contact: where its friction is anchored (world 3), 1 while it
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

/** Points of one craft that may touch one plane: feet, ends of a limb, a load. Forces along n: k depth + c depth', never pulling unless held; along the plane: a
 * bristle k stretch + c v from the point's anchor, no more than friction times the normal force (plus what holds it). */
export interface Contacts {
	readonly count: number;
	readonly ownAt: number;
	readonly normal: Float64Array;
	/** Of one point: N/m and N s/m. */
	readonly stiffness: number;
	readonly damping: number;
	readonly friction: number;
	/** Rotation body to world 9, then per point position 3, velocity 3, depth, its rate. */
	readonly at: Float64Array;
	/** Of the point last asked for, world. */
	readonly force: Float64Array;
	/** How fast each last arrived, m/s; below 0: not yet. */
	readonly arrivals: Float64Array;
}

/** Of a piece of a step times the fastest frequency of what touches, and times its fastest decay. */
export const FINE = 0.05;
export const DECAY = 0.25;

const PER_POINT = 8;
const FIRST = 9;
export const DEPTH = 6;
const DEPTH_RATE = 7;
/** Where point `i` stands in `Contacts.at`, and in `own`. */
export const pointAt = (i: number): number => FIRST + PER_POINT * i;
export const ownSize = (count: number): number => OWN_FEET + FOOT_STRIDE * count;

/** The law's numbers for `feet` equal feet under a mass that rests `sinkM` deep on them; every other point has those of a foot. */
export function createContacts(
	count: number,
	ownAt: number,
	feet: number,
	weightN: number,
	massKg: number,
	spec: { readonly sinkM: number; readonly dampingRatio: number; readonly friction: number },
	normal: readonly [number, number, number],
): Contacts {
	const whole = weightN / spec.sinkM;
	return {
		count,
		ownAt,
		normal: Float64Array.from(normal),
		stiffness: whole / feet,
		damping: (2 * spec.dampingRatio * Math.sqrt(whole * massKg)) / feet,
		friction: spec.friction,
		at: new Float64Array(FIRST + PER_POINT * count),
		force: new Float64Array(3),
		arrivals: new Float64Array(count).fill(-1),
	};
}

/** Depth and its rate of point `i`, whose position and velocity stand in `at`. */
export function sound({ at, normal }: Contacts, i: number): void {
	const from = FIRST + PER_POINT * i;
	at[from + DEPTH] = -(normal[0]! * at[from]! + normal[1]! * at[from + 1]! + normal[2]! * at[from + 2]!);
	at[from + DEPTH_RATE] = -(
		normal[0]! * at[from + 3]! +
		normal[1]! * at[from + 4]! +
		normal[2]! * at[from + 5]!
	);
}

/** What the ground does to point `i` where it is placed, into `force`; false: nothing. Allocates nothing. */
export function contactForce(contacts: Contacts, i: number, own: Float64Array): boolean {
	const { at, normal, stiffness, damping, friction, force, ownAt } = contacts;
	const from = FIRST + PER_POINT * i;
	const mine = ownAt + OWN_FEET + FOOT_STRIDE * i;
	const touches = own[mine + FOOT_TOUCHES]! > 0;
	const held = touches ? own[mine + FOOT_HELD]! : 0;
	const depth = at[from + DEPTH]!;
	const rate = at[from + DEPTH_RATE]!;
	if (!(depth > 0) && !(held > 0)) return false;
	const nx = normal[0]!;
	const ny = normal[1]!;
	const nz = normal[2]!;
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
	force[0] = push * nx - share * tx;
	force[1] = push * ny - share * ty;
	force[2] = push * nz - share * tz;
	return true;
}

/** Whether point `i`, where it is placed, touches or may within the next `seconds[at]`. */
export function mayTouch(
	{ at, ownAt }: Contacts,
	i: number,
	own: Float64Array,
	seconds: Float64Array,
	index: number,
): boolean {
	if (own[ownAt + OWN_FEET + FOOT_STRIDE * i + FOOT_TOUCHES]! > 0) return true;
	const from = FIRST + PER_POINT * i;
	const h = seconds[index]!;
	// 100 m/s^2 of acceleration towards the ground on top of the speed it has.
	return at[from + DEPTH]! + 2 * h * Math.max(0, at[from + DEPTH_RATE]!) + 200 * h * h > 0;
}

/** Depth' of every point as it is placed. */
export function keepRates({ at, count }: Contacts, out: Float64Array): void {
	for (let i = 0; i < count; i++) out[i] = at[FIRST + PER_POINT * i + DEPTH_RATE]!;
}

/**
 * After a step, points placed anew: those that came down are anchored where they are, anchors of sliding ones are dragged along until the bristle bears no more
 * than friction does, those that left let go. `before`: depth' of each at the step's start, which is how fast it arrived.
 */
export function settleContacts(contacts: Contacts, own: Float64Array, before: Float64Array): void {
	const { at, normal, stiffness, damping, friction, ownAt, arrivals } = contacts;
	let touching = 0;
	for (let i = 0; i < contacts.count; i++) {
		const from = FIRST + PER_POINT * i;
		const mine = ownAt + OWN_FEET + FOOT_STRIDE * i;
		const depth = at[from + DEPTH]!;
		const pull = -(stiffness * depth + damping * at[from + DEPTH_RATE]!);
		const touched = own[mine + FOOT_TOUCHES]! > 0;
		if (touched && own[mine + FOOT_HELD]! > 0 && pull > own[mine + FOOT_HELD]!) own[mine + FOOT_HELD] = 0;
		const held = touched ? own[mine + FOOT_HELD]! : 0;
		if (!(depth > 0) && !(held > 0)) {
			own[mine + FOOT_TOUCHES] = 0;
			continue;
		}
		if (i < 31) touching |= 1 << i;
		if (!touched) {
			own[mine + FOOT_TOUCHES] = 1;
			for (let k = 0; k < 3; k++) own[mine + k] = at[from + k]!;
			arrivals[i] = Math.max(0, before[i]!);
			if (before[i]! > own[ownAt + OWN_ARRIVAL]!) {
				own[ownAt + OWN_ARRIVAL] = before[i]!;
				own[ownAt + OWN_ARRIVED] = i;
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
	if (touching !== 0) own[ownAt + OWN_LAST] = touching;
}

/** Whether any point touches. */
export function anyTouches({ count, ownAt }: Pick<Contacts, "count" | "ownAt">, own: Float64Array): boolean {
	for (let i = 0; i < count; i++)
		if (own[ownAt + OWN_FEET + FOOT_STRIDE * i + FOOT_TOUCHES]! > 0) return true;
	return false;
}

/** What springs and bristles hold where the points are placed, J. */
export function storedIn({ at, count, normal, ownAt, stiffness }: Contacts, own: Float64Array): number {
	let sum = 0;
	for (let i = 0; i < count; i++) {
		const mine = ownAt + OWN_FEET + FOOT_STRIDE * i;
		if (!(own[mine + FOOT_TOUCHES]! > 0)) continue;
		const from = pointAt(i);
		const depth = at[from + DEPTH]!;
		const s = [0, 1, 2].map((k) => at[from + k]! - own[mine + k]!);
		const along = s.reduce((a, v, k) => a + v * normal[k]!, 0);
		const flat = s.reduce((a, v) => a + v * v, 0) - along * along;
		sum += 0.5 * stiffness * (depth * depth + flat);
	}
	return sum;
}
