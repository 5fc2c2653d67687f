import * as mat3 from "../math/mat3.ts";
import { solve } from "../math/matrix.ts";
import { toMatrix } from "../math/quaternion.ts";
import type { Mat3, Quat, Vec3 } from "../math/types.ts";
import * as vec3 from "../math/vec3.ts";
import { createTreePoser, type JointTree, type Posture } from "./joint-tree.ts";
import { MOMENTUM, POSITION, VELOCITY } from "./kernel-layout.ts";

/** A tree with the angles and speeds of its joints, angles first. */
export interface Jointed {
	readonly tree: JointTree;
	readonly joints: Float64Array;
	/** Added to the frame's inertia (a corner's factor). */
	readonly extra: Float64Array;
}

interface Motion {
	readonly posture: Posture;
	readonly joints: Float64Array;
	readonly centre: Vec3;
	readonly speed: Vec3;
}

function motionOf({ tree, joints, extra }: Jointed): Motion {
	const poser = createTreePoser(tree);
	poser.extraInertia.set(extra);
	poser.pose(joints);
	const { posture } = poser;
	return { posture, joints, centre: triple(posture.centre), speed: triple(posture.centreSpeed) };
}

const triple = (v: ArrayLike<number>): Vec3 => [v[0]!, v[1]!, v[2]!];
const at = (x: Float64Array, from: number): Vec3 => [x[from]!, x[from + 1]!, x[from + 2]!];
const turnOf = (x: Float64Array): Mat3 => toMatrix([x[6]!, x[7]!, x[8]!, x[9]!] as Quat);
const write = (x: Float64Array, from: number, v: Vec3): void => {
	for (let k = 0; k < 3; k++) x[from + k] = v[k]!;
};

/**
 * A load that is at rest and free becomes part of the tree: the airframe's place, linear and angular momentum of the whole are kept. A joint that a servo holds
 * keeps its speed (its gears bear the blow). About a `loose` hinge, behind a spring or hanging, nothing bears a blow: what lies beyond it keeps its angular momentum about it, and
 * so do the joints that only `after` has (the load's own swing), where that is 0. `loadM`: the load's centre, body axes. `spin`: the rotors' angular momentum, body axes.
 */
export function joinLoad(
	before: Jointed,
	after: Jointed,
	loadM: Vec3,
	spin: Vec3,
	x: Float64Array,
	loose: readonly boolean[] = [],
): void {
	const turn = turnOf(x);
	const old = motionOf(before);
	const kept = before.tree.bodies.length;
	const all = after.tree.bodies.length;
	const massKg = old.posture.massKg;
	const loadKg = motionOf(after).posture.massKg - massKg;
	const share = massKg / (massKg + loadKg);
	const velocity = mat3.times(mat3.transpose(turn), at(x, VELOCITY));
	const gained = vec3.cross(vec3.subtract(loadM, old.centre), vec3.scale(velocity, -share * loadKg));
	const momentum = vec3.add(at(x, MOMENTUM), gained);
	const slower = vec3.scale(velocity, share);
	const open = Array.from({ length: all }, (_, h) => h).filter((h) => h >= kept || loose[h] === true);
	const about = beyondHinges(before, old, spin, velocity, at(x, MOMENTUM));
	for (const h of open) after.joints[all + h] = 0;
	const now = motionOf(after);
	const { posture } = now;
	const size = 3 + open.length;
	const matrix = new Float64Array(size * size);
	const side = new Float64Array(size);
	for (let r = 0; r < 3; r++) {
		for (let c = 0; c < 3; c++) matrix[r * size + c] = posture.inertia[3 * r + c]!;
		side[r] = momentum[r]! - spin[r]! - posture.momentum[r]!;
	}
	open.forEach((h, i) => {
		const row = 3 + i;
		let sum = about[h] ?? 0;
		for (let k = 0; k < 3; k++) {
			matrix[k * size + row] = posture.reach[3 * h + k]!;
			matrix[row * size + k] = posture.reach[3 * h + k]!;
			sum -= posture.massKg * posture.shift[3 * h + k]! * slower[k]!;
		}
		for (let j = 0; j < all; j++) sum -= posture.between[h * all + j]! * after.joints[all + j]!;
		side[row] = sum;
		open.forEach((g, j) => {
			matrix[row * size + 3 + j] = posture.between[h * all + g]!;
		});
	});
	if (open.length > 0) {
		const found = solve(matrix, side, size, 1);
		open.forEach((h, i) => {
			after.joints[all + h] = found[3 + i]!;
		});
	}
	write(x, MOMENTUM, momentum);
	write(x, VELOCITY, mat3.times(turn, slower));
	write(x, POSITION, vec3.add(at(x, POSITION), mat3.times(turn, vec3.subtract(now.centre, old.centre))));
}

/** Per joint: angular momentum, along its axis and about its hinge, of what lies beyond it. `velocity` of the centre of the whole, body axes. */
function beyondHinges(
	{ tree }: Jointed,
	{ posture, joints }: Motion,
	spin: Vec3,
	velocity: Vec3,
	momentum: Vec3,
): number[] {
	const n = tree.bodies.length;
	const turning = vec3.subtract(vec3.subtract(momentum, spin), triple(posture.momentum));
	const rates = mat3.times(Array.from(posture.inverse) as unknown as Mat3, turning);
	return tree.bodies.map((_, h) => {
		let sum = 0;
		for (let k = 0; k < 3; k++)
			sum +=
				posture.reach[3 * h + k]! * rates[k]! + posture.massKg * posture.shift[3 * h + k]! * velocity[k]!;
		for (let j = 0; j < n; j++) sum += posture.between[h * n + j]! * joints[n + j]!;
		return sum;
	});
}

/** A load leaves with the motion it has: the rest goes on as it did. `rates` rad/s, body axes. */
export function leaveLoad(before: Jointed, after: Jointed, rates: Vec3, spin: Vec3, x: Float64Array): void {
	const turn = turnOf(x);
	const old = motionOf(before);
	const now = motionOf(after);
	const speedOf = ({ centre, speed }: Motion): Vec3 => vec3.add(vec3.cross(rates, centre), speed);
	const change = mat3.times(turn, vec3.subtract(speedOf(now), speedOf(old)));
	write(x, VELOCITY, vec3.add(at(x, VELOCITY), change));
	const turning = mat3.times(Array.from(now.posture.inertia) as unknown as Mat3, rates);
	write(x, MOMENTUM, vec3.add(vec3.add(turning, triple(now.posture.momentum)), spin));
	write(x, POSITION, vec3.add(at(x, POSITION), mat3.times(turn, vec3.subtract(now.centre, old.centre))));
}
