import type { MassProperties } from "../craft/model.ts";
import type { Mat3, Vec3 } from "../math/types.ts";
import { addPoint, invertSymmetric, turnInertia } from "./inertia-sums.ts";

/**
 * A craft whose parts move against each other: the frame, and bodies that each turn about one hinge of the frame or of an earlier body. A link of a
 * limb is one body; a load on a tether, or liquid that sloshes as a pendulum, is two with crossed hinges. All geometry is that of the pose with every hinge at 0,
 * body axes from the reference point.
 */
export interface JointTree {
	readonly frame: MassProperties;
	readonly bodies: readonly TreeBody[];
}

export interface TreeBody {
	/** Index of an earlier body; -1: the frame. */
	readonly parent: number;
	readonly hingeM: Vec3;
	/** Unit vector; a positive angle turns right-handed about it. */
	readonly axis: Vec3;
	readonly mass: MassProperties;
}

/** Numbers per body of `Posture.bodies`, all in body axes. */
export const BODY = {
	/** From its own axes to body axes, row by row. */
	turn: 0,
	hinge: 9,
	axis: 12,
	centre: 15,
	/** About its own centre, row by row. */
	inertia: 18,
	/** Motion against the frame: of its centre, m/s; of itself, rad/s. */
	speed: 27,
	rate: 30,
	/** Accelerations against the frame at still joint accelerations: of its centre; of itself. */
	lean: 33,
	leanRate: 36,
	length: 39,
} as const;

/** The tree at one pose and joint speed; every array is written anew by `pose`. */
export interface Posture {
	readonly count: number;
	readonly massKg: number;
	readonly bodies: Float64Array;
	/** Of the whole, and how fast it moves against the frame. */
	readonly centre: Float64Array;
	readonly centreSpeed: Float64Array;
	/** Of the whole about its centre, and the inverse; row by row. */
	readonly inertia: Float64Array;
	readonly inverse: Float64Array;
	/** Per joint, 3 numbers: angular momentum about the centre of the whole per rad/s; shift of that centre per rad. */
	readonly reach: Float64Array;
	readonly shift: Float64Array;
	/** count x count: kinetic energy's matrix of the joint speeds against the centre of the whole. */
	readonly between: Float64Array;
	/** Angular momentum of the joint motion, body axes. */
	readonly momentum: Float64Array;
}

export interface TreePoser {
	readonly tree: JointTree;
	readonly posture: Posture;
	/** Writes `posture` for angles and speeds (rad, rad/s) that stand in `joints`: angles first, then speeds. Allocates nothing. */
	pose(joints: Float64Array): void;
	/** Whether body `b` hangs on joint `i`. */
	carries(i: number, b: number): boolean;
	/** Added to the inertia of the frame, row by row (a corner's inertia factor). */
	readonly extraInertia: Float64Array;
}

/** @throws RangeError for a parent that is not earlier, an axis that is not a unit vector, a mass that is not positive. */
export function createTreePoser(tree: JointTree): TreePoser {
	const n = tree.bodies.length;
	tree.bodies.forEach((body, i) => {
		if (!(Number.isInteger(body.parent) && body.parent >= -1 && body.parent < i))
			throw new RangeError(`joint tree: bodies[${i}].parent ${body.parent}, expected -1 to ${i - 1}`);
		const size = Math.hypot(...body.axis);
		if (Math.abs(size - 1) > 1e-9)
			throw new RangeError(`joint tree: bodies[${i}].axis has length ${size}, expected 1`);
	});
	const massKg = tree.frame.massKg + tree.bodies.reduce((sum, body) => sum + body.mass.massKg, 0);
	if (!(massKg > 0)) throw new RangeError(`joint tree: whole mass ${massKg} kg, expected above 0`);
	const carried = tree.bodies.map((_, b) => {
		const row = new Uint8Array(n);
		for (let i = b; i >= 0; i = tree.bodies[i]!.parent) row[i] = 1;
		return row;
	});
	/** Zero pose, per body: parent, hinge from the parent's hinge 3, axis 3, centre from its own hinge 3, mass, inertia 9. */
	const STRIDE = 20;
	const given = new Float64Array(STRIDE * n);
	tree.bodies.forEach((body, i) => {
		const from = body.parent < 0 ? [0, 0, 0] : tree.bodies[body.parent]!.hingeM;
		const at = STRIDE * i;
		given[at] = body.parent;
		for (let k = 0; k < 3; k++) {
			given[at + 1 + k] = body.hingeM[k]! - from[k]!;
			given[at + 4 + k] = body.axis[k]!;
			given[at + 7 + k] = body.mass.centreOfMassM[k]! - body.hingeM[k]!;
		}
		given[at + 10] = body.mass.massKg;
		given.set(body.mass.inertiaKgM2, at + 11);
	});
	const frameMass = tree.frame.massKg;
	/** Of the bodies, then of the frame. */
	const weights = Float64Array.of(...tree.bodies.map(({ mass }) => mass.massKg), frameMass);
	const frameCentre = Float64Array.from(tree.frame.centreOfMassM);
	const frameInertia = Float64Array.from(tree.frame.inertiaKgM2);
	const extraInertia = new Float64Array(9);
	const posture: Posture = {
		count: n,
		massKg,
		bodies: new Float64Array(BODY.length * n),
		centre: new Float64Array(3),
		centreSpeed: new Float64Array(3),
		inertia: new Float64Array(9),
		inverse: new Float64Array(9),
		reach: new Float64Array(3 * n),
		shift: new Float64Array(3 * n),
		between: new Float64Array(n * n),
		momentum: new Float64Array(3),
	};
	const { bodies, centre, centreSpeed, inertia, inverse, reach, shift, between, momentum } = posture;
	const turned = new Float64Array(9);

	const placeBody = (i: number, joints: Float64Array): void => {
		const at = STRIDE * i;
		const to = BODY.length * i;
		const parent = given[at]!;
		const up = BODY.length * parent;
		const angle = joints[i]!;
		// Rodrigues' rotation about the axis in the parent's own axes, then the parent's.
		const ax = given[at + 4]!;
		const ay = given[at + 5]!;
		const az = given[at + 6]!;
		const s = Math.sin(angle);
		const half = Math.sin(angle / 2);
		const v = 2 * half * half;
		turned[0] = 1 - v * (ay * ay + az * az);
		turned[1] = v * ax * ay - s * az;
		turned[2] = v * ax * az + s * ay;
		turned[3] = v * ax * ay + s * az;
		turned[4] = 1 - v * (ax * ax + az * az);
		turned[5] = v * ay * az - s * ax;
		turned[6] = v * ax * az - s * ay;
		turned[7] = v * ay * az + s * ax;
		turned[8] = 1 - v * (ax * ax + ay * ay);
		if (parent < 0) {
			for (let k = 0; k < 9; k++) bodies[to + k] = turned[k]!;
			for (let k = 0; k < 3; k++) {
				bodies[to + BODY.hinge + k] = given[at + 1 + k]!;
				bodies[to + BODY.axis + k] = given[at + 4 + k]!;
			}
		} else
			for (let r = 0; r < 3; r++) {
				const a = bodies[up + 3 * r]!;
				const b = bodies[up + 3 * r + 1]!;
				const c = bodies[up + 3 * r + 2]!;
				for (let k = 0; k < 3; k++)
					bodies[to + 3 * r + k] = a * turned[k]! + b * turned[3 + k]! + c * turned[6 + k]!;
				bodies[to + BODY.hinge + r] =
					bodies[up + BODY.hinge + r]! + a * given[at + 1]! + b * given[at + 2]! + c * given[at + 3]!;
				bodies[to + BODY.axis + r] = a * ax + b * ay + c * az;
			}
		for (let r = 0; r < 3; r++) {
			const row = to + 3 * r;
			bodies[to + BODY.centre + r] =
				bodies[to + BODY.hinge + r]! +
				bodies[row]! * given[at + 7]! +
				bodies[row + 1]! * given[at + 8]! +
				bodies[row + 2]! * given[at + 9]!;
		}
		turnInertia(bodies, to, to + BODY.inertia, given, at + 11);
		carryMotion(i, to, up, joints);
	};

	/** Speeds and leaning accelerations: parent's at the hinge, then about the hinge. */
	const carryMotion = (i: number, to: number, up: number, joints: Float64Array): void => {
		const speed = joints[n + i]!;
		const hx = bodies[to + 9]!;
		const hy = bodies[to + 10]!;
		const hz = bodies[to + 11]!;
		const ax = bodies[to + 12]!;
		const ay = bodies[to + 13]!;
		const az = bodies[to + 14]!;
		let px = 0;
		let py = 0;
		let pz = 0;
		let vx = 0;
		let vy = 0;
		let vz = 0;
		let lx = 0;
		let ly = 0;
		let lz = 0;
		let mx = 0;
		let my = 0;
		let mz = 0;
		if (up >= 0) {
			px = bodies[up + BODY.rate]!;
			py = bodies[up + BODY.rate + 1]!;
			pz = bodies[up + BODY.rate + 2]!;
			mx = bodies[up + BODY.leanRate]!;
			my = bodies[up + BODY.leanRate + 1]!;
			mz = bodies[up + BODY.leanRate + 2]!;
			const dx = hx - bodies[up + BODY.centre]!;
			const dy = hy - bodies[up + BODY.centre + 1]!;
			const dz = hz - bodies[up + BODY.centre + 2]!;
			const sx = py * dz - pz * dy;
			const sy = pz * dx - px * dz;
			const sz = px * dy - py * dx;
			vx = bodies[up + BODY.speed]! + sx;
			vy = bodies[up + BODY.speed + 1]! + sy;
			vz = bodies[up + BODY.speed + 2]! + sz;
			lx = bodies[up + BODY.lean]! + my * dz - mz * dy + py * sz - pz * sy;
			ly = bodies[up + BODY.lean + 1]! + mz * dx - mx * dz + pz * sx - px * sz;
			lz = bodies[up + BODY.lean + 2]! + mx * dy - my * dx + px * sy - py * sx;
		}
		const nx = mx + speed * (py * az - pz * ay);
		const ny = my + speed * (pz * ax - px * az);
		const nz = mz + speed * (px * ay - py * ax);
		const wx = px + speed * ax;
		const wy = py + speed * ay;
		const wz = pz + speed * az;
		const dx = bodies[to + BODY.centre]! - hx;
		const dy = bodies[to + BODY.centre + 1]! - hy;
		const dz = bodies[to + BODY.centre + 2]! - hz;
		const sx = wy * dz - wz * dy;
		const sy = wz * dx - wx * dz;
		const sz = wx * dy - wy * dx;
		bodies[to + BODY.speed] = vx + sx;
		bodies[to + BODY.speed + 1] = vy + sy;
		bodies[to + BODY.speed + 2] = vz + sz;
		bodies[to + BODY.rate] = wx;
		bodies[to + BODY.rate + 1] = wy;
		bodies[to + BODY.rate + 2] = wz;
		bodies[to + BODY.lean] = lx + ny * dz - nz * dy + wy * sz - wz * sy;
		bodies[to + BODY.lean + 1] = ly + nz * dx - nx * dz + wz * sx - wx * sz;
		bodies[to + BODY.lean + 2] = lz + nx * dy - ny * dx + wx * sy - wy * sx;
		bodies[to + BODY.leanRate] = nx;
		bodies[to + BODY.leanRate + 1] = ny;
		bodies[to + BODY.leanRate + 2] = nz;
	};

	const sumCentre = (): void => {
		for (let k = 0; k < 3; k++) {
			let sum = frameMass * frameCentre[k]!;
			let moved = 0;
			for (let b = 0; b < n; b++) {
				const m = given[STRIDE * b + 10]!;
				sum += m * bodies[BODY.length * b + BODY.centre + k]!;
				moved += m * bodies[BODY.length * b + BODY.speed + k]!;
			}
			centre[k] = sum / massKg;
			centreSpeed[k] = moved / massKg;
		}
	};

	const sumInertia = (): void => {
		for (let k = 0; k < 9; k++) inertia[k] = frameInertia[k]! + extraInertia[k]!;
		addPoint(inertia, weights, n, frameCentre, 0, centre);
		for (let b = 0; b < n; b++) {
			const from = BODY.length * b;
			for (let k = 0; k < 9; k++) inertia[k]! += bodies[from + BODY.inertia + k]!;
			addPoint(inertia, weights, b, bodies, from + BODY.centre, centre);
		}
		invertSymmetric(inertia, inverse);
	};

	const sumJoints = (): void => {
		reach.fill(0);
		shift.fill(0);
		between.fill(0);
		momentum.fill(0);
		for (let b = 0; b < n; b++) {
			const from = BODY.length * b;
			const m = given[STRIDE * b + 10]!;
			const row = carried[b]!;
			const dx = bodies[from + BODY.centre]! - centre[0]!;
			const dy = bodies[from + BODY.centre + 1]! - centre[1]!;
			const dz = bodies[from + BODY.centre + 2]! - centre[2]!;
			for (let i = 0; i < n; i++) {
				if (row[i] === 0) continue;
				sweepOf(i, b, swept, 0);
				const ax = bodies[BODY.length * i + 12]!;
				const ay = bodies[BODY.length * i + 13]!;
				const az = bodies[BODY.length * i + 14]!;
				const jx = from + BODY.inertia;
				const kx = bodies[jx]! * ax + bodies[jx + 1]! * ay + bodies[jx + 2]! * az;
				const ky = bodies[jx + 3]! * ax + bodies[jx + 4]! * ay + bodies[jx + 5]! * az;
				const kz = bodies[jx + 6]! * ax + bodies[jx + 7]! * ay + bodies[jx + 8]! * az;
				reach[3 * i]! += kx + m * (dy * swept[2]! - dz * swept[1]!);
				reach[3 * i + 1]! += ky + m * (dz * swept[0]! - dx * swept[2]!);
				reach[3 * i + 2]! += kz + m * (dx * swept[1]! - dy * swept[0]!);
				for (let k = 0; k < 3; k++) shift[3 * i + k]! += (m * swept[k]!) / massKg;
				for (let j = 0; j <= i; j++) {
					if (row[j] === 0) continue;
					sweepOf(j, b, swept, 3);
					const bx = bodies[BODY.length * j + 12]!;
					const by = bodies[BODY.length * j + 13]!;
					const bz = bodies[BODY.length * j + 14]!;
					between[i * n + j]! +=
						kx * bx +
						ky * by +
						kz * bz +
						m * (swept[0]! * swept[3]! + swept[1]! * swept[4]! + swept[2]! * swept[5]!);
				}
			}
		}
		for (let i = 0; i < n; i++) {
			for (let k = 0; k < 3; k++) momentum[k]! += reach[3 * i + k]! * joints0[n + i]!;
			for (let j = 0; j <= i; j++) {
				between[i * n + j]! -=
					massKg *
					(shift[3 * i]! * shift[3 * j]! +
						shift[3 * i + 1]! * shift[3 * j + 1]! +
						shift[3 * i + 2]! * shift[3 * j + 2]!);
				between[j * n + i] = between[i * n + j]!;
			}
		}
	};

	/** Velocity of body b's centre per rad/s of joint i, into out[at..]. */
	const sweepOf = (i: number, b: number, out: Float64Array, at: number): void => {
		const from = BODY.length * i;
		const to = BODY.length * b + BODY.centre;
		const dx = bodies[to]! - bodies[from + BODY.hinge]!;
		const dy = bodies[to + 1]! - bodies[from + BODY.hinge + 1]!;
		const dz = bodies[to + 2]! - bodies[from + BODY.hinge + 2]!;
		const ax = bodies[from + 12]!;
		const ay = bodies[from + 13]!;
		const az = bodies[from + 14]!;
		out[at] = ay * dz - az * dy;
		out[at + 1] = az * dx - ax * dz;
		out[at + 2] = ax * dy - ay * dx;
	};
	const swept = new Float64Array(6);
	let joints0: Float64Array = new Float64Array(2 * n);

	return {
		tree,
		posture,
		extraInertia,
		carries: (i, b) => carried[b]![i] === 1,
		pose(joints) {
			joints0 = joints;
			for (let i = 0; i < n; i++) placeBody(i, joints);
			sumCentre();
			sumInertia();
			sumJoints();
		},
	};
}

/** The whole at a pose as one rigid body. */
export function wholeAt(tree: JointTree, anglesRad: readonly number[]): MassProperties {
	const poser = createTreePoser(tree);
	const joints = new Float64Array(2 * tree.bodies.length);
	joints.set(anglesRad);
	poser.pose(joints);
	const { massKg, centre, inertia } = poser.posture;
	return {
		massKg,
		centreOfMassM: [centre[0]!, centre[1]!, centre[2]!],
		inertiaKgM2: Array.from(inertia) as unknown as Mat3,
	};
}
