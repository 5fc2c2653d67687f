import type { Vec3 } from "../math/types.ts";
import * as vec3 from "../math/vec3.ts";
import { type Contacts, contactForce, DECAY, FINE, mayTouch, pointAt, sound } from "./contact-law.ts";
import { BODY, type JointTree, type Posture } from "./joint-tree.ts";
import { WORK_STEP } from "./kernel-layout.ts";
import { createLimbPoints } from "./limb-points.ts";

/** A point of a body that may touch the ground; where it is with every hinge at 0, body axes from the reference point. Body -1: the frame. */
export interface LimbContact {
	readonly body: number;
	readonly placeM: Vec3;
}

/** Feet, ends of a limb and a load on the ground, each the law of contact-law.ts on its own body. Allocates nothing but in `armsAt`. */
export interface LimbGround {
	readonly contacts: Contacts;
	/** So high that nothing can touch for some milliseconds, whatever the pose. */
	aloft(x: Float64Array): boolean;
	/** Every point, and how it moves, into contacts.at. `turn`: body to world. */
	place(posture: Posture, x: Float64Array, rates: Float64Array, turn: Float64Array): void;
	/** Those alone that `hurry` found near enough to touch. */
	placeNear(posture: Posture, x: Float64Array, rates: Float64Array, turn: Float64Array): void;
	/** What the ground does to those, placed: adds to `load` and `along` as LimbForces do. */
	add(posture: Posture, own: Float64Array, turn: Float64Array, load: Float64Array, along: Float64Array): void;
	/** Pieces a second that the points ask for which may touch within the next work[WORK_STEP], into `haste`; 0: none may. Points placed. */
	hurry(posture: Posture, own: Float64Array, work: Float64Array): void;
	readonly haste: Float64Array;
	/** From the centre of the whole, body axes, 3 per point. */
	armsAt(posture: Posture): Float64Array;
}

const MOST_A_SECOND = 1e5;

export function createLimbGround(
	tree: JointTree,
	given: readonly LimbContact[],
	contacts: Contacts,
): LimbGround {
	const n = tree.bodies.length;
	const { count, at } = contacts;
	const body = Int32Array.from(given, (each) => each.body);
	const from = new Float64Array(3 * count);
	given.forEach(({ body: b, placeM }, i) => {
		const middle = b < 0 ? [0, 0, 0] : tree.bodies[b]!.mass.centreOfMassM;
		for (let k = 0; k < 3; k++) from[3 * i + k] = placeM[k]! - middle[k]!;
	});
	const carried = tree.bodies.map((_, b) => {
		const row = new Uint8Array(n);
		for (let i = b; i >= 0; i = tree.bodies[i]!.parent) row[i] = 1;
		return row;
	});
	const { point, speed, force, placeOn, speedAt, apply } = createLimbPoints((i, b) => carried[b]![i] === 1);
	// From the reference point along the hinges to the farthest point; the centre of the whole is no farther.
	const along = (b: number): number =>
		b < 0 ? 0 : along(tree.bodies[b]!.parent) + vec3.length(fromParent(b));
	const fromParent = (b: number): Vec3 => {
		const { parent, hingeM } = tree.bodies[b]!;
		return parent < 0 ? hingeM : vec3.subtract(hingeM, tree.bodies[parent]!.hingeM);
	};
	const farthest = given.map(({ body: b, placeM }) =>
		b < 0 ? vec3.length(placeM) : along(b) + vec3.length(vec3.subtract(placeM, tree.bodies[b]!.hingeM)),
	);
	const reachM = 2 * Math.max(...farthest);
	const haste = new Float64Array(1);
	const near = new Uint8Array(count);
	const size = 3 + n;
	const root = new Float64Array(size * size);
	/** What a unit force at a point moves, in coordinates in which kinetic energy is half the square: the centre 3, turning and joints. */
	const moved = new Float64Array(3 + size);
	const spread = new Float64Array((3 + size) ** 2);

	/** Cholesky's factor of the kinetic energy's matrix of turning and joints. */
	const factor = ({ inertia, reach, between }: Posture): void => {
		for (let i = 0; i < size; i++)
			for (let j = 0; j <= i; j++) {
				let sum =
					i < 3 ? inertia[3 * i + j]! : j < 3 ? reach[3 * (i - 3) + j]! : between[(i - 3) * n + (j - 3)]!;
				for (let k = 0; k < j; k++) sum -= root[i * size + k]! * root[j * size + k]!;
				root[i * size + j] = i === j ? Math.sqrt(sum) : sum / root[j * size + j]!;
			}
	};

	/** Adds to `spread` a unit force along body axis `k` at `point` of body `b`, every joint free. */
	const addSpread = ({ bodies, centre, shift, massKg }: Posture, b: number, k: number): void => {
		const r = (k + 1) % 3;
		const s = (k + 2) % 3;
		moved.fill(0);
		moved[k] = 1 / Math.sqrt(massKg);
		// r x e_k.
		moved[3 + r] = point[s]! - centre[s]!;
		moved[3 + s] = -(point[r]! - centre[r]!);
		for (let i = 0; i < n; i++) {
			moved[6 + i] = -shift[3 * i + k]!;
			if (b < 0 || carried[b]![i] === 0) continue;
			const to = BODY.length * i;
			moved[6 + i]! +=
				bodies[to + BODY.axis + r]! * (point[s]! - bodies[to + BODY.hinge + s]!) -
				bodies[to + BODY.axis + s]! * (point[r]! - bodies[to + BODY.hinge + r]!);
		}
		for (let i = 0; i < size; i++) {
			let left = moved[3 + i]!;
			for (let j = 0; j < i; j++) left -= root[i * size + j]! * moved[3 + j]!;
			moved[3 + i] = left / root[i * size + i]!;
		}
		const all = 3 + size;
		for (let i = 0; i < all; i++) for (let j = 0; j <= i; j++) spread[i * all + j]! += moved[i]! * moved[j]!;
	};

	/** No less than the largest eigenvalue of `spread`, and close to it: the fourth root of the sum of their fourth powers. */
	const bound = new Float64Array(1);
	const findBound = (): void => {
		const all = 3 + size;
		for (let i = 0; i < all; i++) for (let j = 0; j < i; j++) spread[j * all + i] = spread[i * all + j]!;
		let sum = 0;
		for (let i = 0; i < all; i++)
			for (let j = 0; j <= i; j++) {
				let squared = 0;
				for (let k = 0; k < all; k++) squared += spread[i * all + k]! * spread[j * all + k]!;
				sum += (i === j ? 1 : 2) * squared * squared;
			}
		bound[0] = Math.sqrt(Math.sqrt(sum));
	};

	const placeOne = (
		i: number,
		posture: Posture,
		x: Float64Array,
		rates: Float64Array,
		turn: Float64Array,
	): void => {
		const { centre } = posture;
		const b = body[i]!;
		placeOn(posture, b, from, 3 * i);
		speedAt(posture, b, x, rates, turn);
		const rx = point[0]! - centre[0]!;
		const ry = point[1]! - centre[1]!;
		const rz = point[2]! - centre[2]!;
		const to = pointAt(i);
		for (let k = 0; k < 3; k++) {
			const a = turn[3 * k]!;
			const c = turn[3 * k + 1]!;
			const d = turn[3 * k + 2]!;
			at[to + k] = x[k]! + a * rx + c * ry + d * rz;
			at[to + 3 + k] = a * speed[0]! + c * speed[1]! + d * speed[2]!;
		}
		sound(contacts, i);
	};

	return {
		contacts,
		haste,
		aloft(x) {
			const { normal } = contacts;
			const height = normal[0]! * x[0]! + normal[1]! * x[1]! + normal[2]! * x[2]!;
			const climb = normal[0]! * x[3]! + normal[1]! * x[4]! + normal[2]! * x[5]!;
			return height - reachM > 0.05 + 0.01 * (climb < 0 ? -climb : 0);
		},
		place(posture, x, rates, turn) {
			for (let i = 0; i < count; i++) placeOne(i, posture, x, rates, turn);
		},
		placeNear(posture, x, rates, turn) {
			for (let i = 0; i < count; i++) if (near[i] === 1) placeOne(i, posture, x, rates, turn);
		},
		add(posture, own, turn, load, along) {
			const pushed = contacts.force;
			for (let i = 0; i < count; i++) {
				if (near[i] === 0 || !contactForce(contacts, i, own)) continue;
				placeOn(posture, body[i]!, from, 3 * i);
				for (let k = 0; k < 3; k++)
					force[k] = turn[k]! * pushed[0]! + turn[3 + k]! * pushed[1]! + turn[6 + k]! * pushed[2]!;
				apply(posture, body[i]!, turn, load, along);
			}
		},
		hurry(posture, own, work) {
			haste[0] = 0;
			let some = 0;
			for (let i = 0; i < count; i++) {
				near[i] = mayTouch(contacts, i, own, work, WORK_STEP) ? 1 : 0;
				if (near[i] === 0) continue;
				if (some === 0) {
					factor(posture);
					spread.fill(0);
				}
				some++;
				placeOn(posture, body[i]!, from, 3 * i);
				for (let k = 0; k < 3; k++) addSpread(posture, body[i]!, k);
			}
			if (some === 0) return;
			findBound();
			haste[0] = MOST_A_SECOND;
			const swift = Math.sqrt(contacts.stiffness * bound[0]!) / FINE;
			const damped = (contacts.damping * bound[0]!) / DECAY;
			// Neither holds for what is not a number.
			if (swift >= damped && swift < MOST_A_SECOND) haste[0] = swift;
			if (damped > swift && damped < MOST_A_SECOND) haste[0] = damped;
		},
		armsAt(posture) {
			const arms = new Float64Array(3 * count);
			for (let i = 0; i < count; i++) {
				placeOn(posture, body[i]!, from, 3 * i);
				for (let k = 0; k < 3; k++) arms[3 * i + k] = point[k]! - posture.centre[k]!;
			}
			return arms;
		},
	};
}
