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
	readonly centre: Vec3;
	readonly speed: Vec3;
}

function motionOf({ tree, joints, extra }: Jointed): Motion {
	const poser = createTreePoser(tree);
	poser.extraInertia.set(extra);
	poser.pose(joints);
	const { posture } = poser;
	return { posture, centre: triple(posture.centre), speed: triple(posture.centreSpeed) };
}

const triple = (v: ArrayLike<number>): Vec3 => [v[0]!, v[1]!, v[2]!];
const at = (x: Float64Array, from: number): Vec3 => [x[from]!, x[from + 1]!, x[from + 2]!];
const turnOf = (x: Float64Array): Mat3 => toMatrix([x[6]!, x[7]!, x[8]!, x[9]!] as Quat);
const write = (x: Float64Array, from: number, v: Vec3): void => {
	for (let k = 0; k < 3; k++) x[from + k] = v[k]!;
};

/**
 * A load that is at rest and free becomes part of the tree: the airframe's place, linear and angular momentum of the whole, and the speeds of the joints that both trees have are
 * kept; joints that only `after` has (the load's own swing) get the speeds with which the load starts from rest: a cord or a hinge gives no
 * moment about itself, so their momentum stays 0. `loadM`: the load's centre, body axes. `spin`: the rotors' angular momentum, body axes.
 */
export function joinLoad(before: Jointed, after: Jointed, loadM: Vec3, spin: Vec3, x: Float64Array): void {
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
	after.joints.fill(0, all + kept);
	const now = motionOf(after);
	const { posture } = now;
	const size = 3 + all - kept;
	if (all > kept) {
		const matrix = new Float64Array(size * size);
		const side = new Float64Array(size);
		for (let r = 0; r < 3; r++) {
			for (let c = 0; c < 3; c++) matrix[r * size + c] = posture.inertia[3 * r + c]!;
			side[r] = momentum[r]! - spin[r]! - posture.momentum[r]!;
			for (let h = kept; h < all; h++) {
				matrix[r * size + 3 + h - kept] = posture.reach[3 * h + r]!;
				matrix[(3 + h - kept) * size + r] = posture.reach[3 * h + r]!;
			}
		}
		for (let h = kept; h < all; h++) {
			const row = 3 + h - kept;
			for (let j = kept; j < all; j++) matrix[row * size + 3 + j - kept] = posture.between[h * all + j]!;
			let sum = 0;
			for (let k = 0; k < 3; k++) sum -= posture.massKg * posture.shift[3 * h + k]! * slower[k]!;
			for (let j = 0; j < kept; j++) sum -= posture.between[h * all + j]! * after.joints[all + j]!;
			side[row] = sum;
		}
		const found = solve(matrix, side, size, 1);
		for (let h = kept; h < all; h++) after.joints[all + h] = found[3 + h - kept]!;
	}
	write(x, MOMENTUM, momentum);
	write(x, VELOCITY, mat3.times(turn, slower));
	write(x, POSITION, vec3.add(at(x, POSITION), mat3.times(turn, vec3.subtract(now.centre, old.centre))));
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
