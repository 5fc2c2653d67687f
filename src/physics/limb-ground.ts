import type { Vec3 } from "../math/types.ts";
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
	/** Every point, and how it moves, into contacts.at. `turn`: body to world. */
	place(posture: Posture, x: Float64Array, rates: Float64Array, turn: Float64Array): void;
	/** What the ground does where the points are placed: adds to `load` and `along` as LimbForces do. */
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
	const haste = new Float64Array(1);
	const size = 3 + n;
	const root = new Float64Array(size * size);
	const moved = new Float64Array(size);

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

	/** Adds to moved[0] what a unit force along body axis `k` at `point` of body `b` speeds that point up, every joint free, without the centre's own share. */
	const mobility = new Float64Array(1);
	const addMobility = ({ bodies, centre, shift }: Posture, b: number, k: number): void => {
		const r = (k + 1) % 3;
		const s = (k + 2) % 3;
		moved[k] = 0;
		// r x e_k.
		moved[r] = point[s]! - centre[s]!;
		moved[s] = -(point[r]! - centre[r]!);
		for (let i = 0; i < n; i++) {
			moved[3 + i] = -shift[3 * i + k]!;
			if (b < 0 || carried[b]![i] === 0) continue;
			const to = BODY.length * i;
			moved[3 + i]! +=
				bodies[to + BODY.axis + r]! * (point[s]! - bodies[to + BODY.hinge + s]!) -
				bodies[to + BODY.axis + s]! * (point[r]! - bodies[to + BODY.hinge + r]!);
		}
		let sum = 0;
		for (let i = 0; i < size; i++) {
			let left = moved[i]!;
			for (let j = 0; j < i; j++) left -= root[i * size + j]! * moved[j]!;
			left /= root[i * size + i]!;
			moved[i] = left;
			sum += left * left;
		}
		mobility[0]! += sum;
	};

	return {
		contacts,
		haste,
		place(posture, x, rates, turn) {
			const { centre } = posture;
			for (let k = 0; k < 9; k++) at[k] = turn[k]!;
			for (let i = 0; i < count; i++) {
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
			}
		},
		add(posture, own, turn, load, along) {
			const pushed = contacts.force;
			for (let i = 0; i < count; i++) {
				if (!contactForce(contacts, i, own)) continue;
				placeOn(posture, body[i]!, from, 3 * i);
				for (let k = 0; k < 3; k++)
					force[k] = turn[k]! * pushed[0]! + turn[3 + k]! * pushed[1]! + turn[6 + k]! * pushed[2]!;
				apply(posture, body[i]!, turn, load, along);
			}
		},
		hurry(posture, own, work) {
			haste[0] = 0;
			mobility[0] = 0;
			let near = 0;
			for (let i = 0; i < count; i++) {
				if (!mayTouch(contacts, i, own, work, WORK_STEP)) continue;
				if (near === 0) factor(posture);
				near++;
				placeOn(posture, body[i]!, from, 3 * i);
				for (let k = 0; k < 3; k++) addMobility(posture, body[i]!, k);
			}
			if (near === 0) return;
			const most = mobility[0]! + (3 * near) / posture.massKg;
			const asked = Math.max(Math.sqrt(contacts.stiffness * most) / FINE, (contacts.damping * most) / DECAY);
			haste[0] = Number.isNaN(asked) ? MOST_A_SECOND : Math.min(asked, MOST_A_SECOND);
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
