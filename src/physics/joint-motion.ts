import { BODY, type TreePoser } from "./joint-tree.ts";

/**
 * How the joints of a tree speed up. Each joint is either driven (its acceleration is known, its torque follows) or free (its torque is known, its
 * acceleration follows). Kane's equations about the centre of the whole, body axes; gravity acts on that centre alone and drops out:
 *
 *     J w' + sum_i A_i g_i'' = N                                  N: torque that remains for turning
 *     A_i . w' + sum_j B_ij g_j'' + bias_i = tau_i + Q_i          Q_i: forces from outside along the joint
 *
 * with A (`reach`) and B (`between`) of the posture. From the law of motion alone; compare Kane and Levinson, Dynamics, 1985, chapter 6 (from memory).
 */
export interface JointMotion {
	/** Accelerations of the joints, rad/s^2; `solve` writes those of the free ones. */
	readonly acceleration: Float64Array;
	/** Torques at the joints, N m; `solve` writes those of the driven ones. */
	readonly torque: Float64Array;
	/** 1 where a joint is free; the caller's. */
	readonly free: Uint8Array;
	/** Of the body, rad/s^2; written by `solve`. */
	readonly turning: Float64Array;
	/**
	 * `rates`: body rates. `spin`: torque about the centre of the whole less what rotors take (tau - w x h_rotors - h_rotors'). `push`: force from outside
	 * without gravity, all of it. `along`: per joint, what forces on the moving bodies do about it (sum of F . V). All body axes. Needs the posture of now. Allocates
	 * nothing.
	 */
	solve(rates: Float64Array, spin: Float64Array, push: Float64Array, along: Float64Array): void;
}

export function createJointMotion(poser: TreePoser): JointMotion {
	const { posture, tree } = poser;
	const n = posture.count;
	const { bodies, centre, centreSpeed, inverse, reach, shift, between } = posture;
	/** Of the bodies, then of the frame. */
	const masses = Float64Array.of(...tree.bodies.map((body) => body.mass.massKg), tree.frame.massKg);
	const frame = tree.frame;
	const frameCentre = Float64Array.from(frame.centreOfMassM);
	const frameInertia = Float64Array.from(frame.inertiaKgM2);
	const acceleration = new Float64Array(n);
	const torque = new Float64Array(n);
	const free = new Uint8Array(n);
	const turning = new Float64Array(3);
	const bias = new Float64Array(n);
	const rest = new Float64Array(3);
	const force = new Float64Array(3);
	const couple = new Float64Array(3);
	const matrix = new Float64Array(n * n);
	const side = new Float64Array(n);
	const eased = new Float64Array(3 * n);
	const index = new Int32Array(n);

	/** Adds a body's part of the turning bias to `rest`, and leaves m a in `force`, its couple in `couple`. */
	const burden = (
		body: number,
		at: number,
		inertiaAt: number,
		source: Float64Array,
		inertiaSource: Float64Array,
		moving: number,
		w: Float64Array,
		extra: boolean,
	): void => {
		const m = masses[body]!;
		const rx = source[at]! - centre[0]!;
		const ry = source[at + 1]! - centre[1]!;
		const rz = source[at + 2]! - centre[2]!;
		let ux = -centreSpeed[0]!;
		let uy = -centreSpeed[1]!;
		let uz = -centreSpeed[2]!;
		let lx = 0;
		let ly = 0;
		let lz = 0;
		let wx = w[0]!;
		let wy = w[1]!;
		let wz = w[2]!;
		let ax = 0;
		let ay = 0;
		let az = 0;
		if (moving >= 0) {
			ux += bodies[moving + BODY.speed]!;
			uy += bodies[moving + BODY.speed + 1]!;
			uz += bodies[moving + BODY.speed + 2]!;
			lx = bodies[moving + BODY.lean]!;
			ly = bodies[moving + BODY.lean + 1]!;
			lz = bodies[moving + BODY.lean + 2]!;
			const px = bodies[moving + BODY.rate]!;
			const py = bodies[moving + BODY.rate + 1]!;
			const pz = bodies[moving + BODY.rate + 2]!;
			ax = bodies[moving + BODY.leanRate]! + wy * pz - wz * py;
			ay = bodies[moving + BODY.leanRate + 1]! + wz * px - wx * pz;
			az = bodies[moving + BODY.leanRate + 2]! + wx * py - wy * px;
			wx += px;
			wy += py;
			wz += pz;
		}
		// w x (w x r) + 2 w x u + lean; the centre's own lean is the same for all and leaves no moment.
		const cx = w[1]! * rz - w[2]! * ry + 2 * ux;
		const cy = w[2]! * rx - w[0]! * rz + 2 * uy;
		const cz = w[0]! * ry - w[1]! * rx + 2 * uz;
		const fx = m * (w[1]! * cz - w[2]! * cy + lx);
		const fy = m * (w[2]! * cx - w[0]! * cz + ly);
		const fz = m * (w[0]! * cy - w[1]! * cx + lz);
		let i0 = inertiaSource[inertiaAt]!;
		let i1 = inertiaSource[inertiaAt + 1]!;
		let i2 = inertiaSource[inertiaAt + 2]!;
		let i4 = inertiaSource[inertiaAt + 4]!;
		let i5 = inertiaSource[inertiaAt + 5]!;
		let i8 = inertiaSource[inertiaAt + 8]!;
		if (extra) {
			const e = poser.extraInertia;
			i0 += e[0]!;
			i1 += e[1]!;
			i2 += e[2]!;
			i4 += e[4]!;
			i5 += e[5]!;
			i8 += e[8]!;
		}
		const hx = i0 * wx + i1 * wy + i2 * wz;
		const hy = i1 * wx + i4 * wy + i5 * wz;
		const hz = i2 * wx + i5 * wy + i8 * wz;
		couple[0] = i0 * ax + i1 * ay + i2 * az + wy * hz - wz * hy;
		couple[1] = i1 * ax + i4 * ay + i5 * az + wz * hx - wx * hz;
		couple[2] = i2 * ax + i5 * ay + i8 * az + wx * hy - wy * hx;
		force[0] = fx;
		force[1] = fy;
		force[2] = fz;
		rest[0]! += ry * fz - rz * fy + couple[0]!;
		rest[1]! += rz * fx - rx * fz + couple[1]!;
		rest[2]! += rx * fy - ry * fx + couple[2]!;
	};

	const sumBias = (w: Float64Array): void => {
		rest.fill(0);
		bias.fill(0);
		burden(n, 0, 0, frameCentre, frameInertia, -1, w, true);
		// Sum of m a over everything, for the centre's own share in each joint.
		let sx = force[0]!;
		let sy = force[1]!;
		let sz = force[2]!;
		for (let b = 0; b < n; b++) {
			const from = BODY.length * b;
			burden(b, from + BODY.centre, from + BODY.inertia, bodies, bodies, from, w, false);
			sx += force[0]!;
			sy += force[1]!;
			sz += force[2]!;
			for (let i = 0; i <= b; i++) {
				if (!poser.carries(i, b)) continue;
				const at = BODY.length * i;
				const dx = bodies[from + BODY.centre]! - bodies[at + BODY.hinge]!;
				const dy = bodies[from + BODY.centre + 1]! - bodies[at + BODY.hinge + 1]!;
				const dz = bodies[from + BODY.centre + 2]! - bodies[at + BODY.hinge + 2]!;
				const ax = bodies[at + BODY.axis]!;
				const ay = bodies[at + BODY.axis + 1]!;
				const az = bodies[at + BODY.axis + 2]!;
				bias[i]! +=
					ax * couple[0]! +
					ay * couple[1]! +
					az * couple[2]! +
					(ay * dz - az * dy) * force[0]! +
					(az * dx - ax * dz) * force[1]! +
					(ax * dy - ay * dx) * force[2]!;
			}
		}
		for (let i = 0; i < n; i++)
			bias[i]! -= shift[3 * i]! * sx + shift[3 * i + 1]! * sy + shift[3 * i + 2]! * sz;
	};

	/** Accelerations of the `count` free joints, and what they take from the turning. */
	const yieldJoints = (count: number, push: Float64Array, along: Float64Array): void => {
		for (let r = 0; r < count; r++) {
			const i = index[r]!;
			let sum = torque[i]! + along[i]! - bias[i]!;
			for (let k = 0; k < 3; k++) {
				sum -= shift[3 * i + k]! * push[k]! + reach[3 * i + k]! * turning[k]!;
				// J^-1 A of this joint.
				eased[3 * r + k] =
					inverse[3 * k]! * reach[3 * i]! +
					inverse[3 * k + 1]! * reach[3 * i + 1]! +
					inverse[3 * k + 2]! * reach[3 * i + 2]!;
			}
			for (let j = 0; j < n; j++) if (free[j] === 0) sum -= between[i * n + j]! * acceleration[j]!;
			side[r] = sum;
			for (let s = 0; s < count; s++) {
				const j = index[s]!;
				let left = between[i * n + j]!;
				for (let k = 0; k < 3; k++) left -= eased[3 * r + k]! * reach[3 * j + k]!;
				matrix[r * count + s] = left;
			}
		}
		solvePositive(matrix, side, count);
		for (let r = 0; r < count; r++) {
			acceleration[index[r]!] = side[r]!;
			for (let k = 0; k < 3; k++) turning[k]! -= eased[3 * r + k]! * side[r]!;
		}
	};

	return {
		acceleration,
		torque,
		free,
		turning,
		solve(rates, spin, push, along) {
			sumBias(rates);
			for (let k = 0; k < 3; k++) rest[k] = spin[k]! - rest[k]!;
			let count = 0;
			for (let i = 0; i < n; i++) {
				if (free[i] === 1) {
					index[count] = i;
					count++;
				} else for (let k = 0; k < 3; k++) rest[k]! -= reach[3 * i + k]! * acceleration[i]!;
			}
			// J^-1 of what is left for turning without the free joints.
			for (let k = 0; k < 3; k++)
				turning[k] =
					inverse[3 * k]! * rest[0]! + inverse[3 * k + 1]! * rest[1]! + inverse[3 * k + 2]! * rest[2]!;
			if (count > 0) yieldJoints(count, push, along);
			for (let i = 0; i < n; i++) {
				if (free[i] === 1) continue;
				let sum = bias[i]! - along[i]!;
				for (let k = 0; k < 3; k++) sum += reach[3 * i + k]! * turning[k]! + shift[3 * i + k]! * push[k]!;
				for (let j = 0; j < n; j++) sum += between[i * n + j]! * acceleration[j]!;
				torque[i] = sum;
			}
		},
	};
}

/** Symmetric positive definite m x m, by Cholesky in place; the answer replaces b. */
function solvePositive(a: Float64Array, b: Float64Array, m: number): void {
	for (let i = 0; i < m; i++) {
		for (let j = 0; j <= i; j++) {
			let sum = a[i * m + j]!;
			for (let k = 0; k < j; k++) sum -= a[i * m + k]! * a[j * m + k]!;
			a[i * m + j] = i === j ? Math.sqrt(sum) : sum / a[j * m + j]!;
		}
		let sum = b[i]!;
		for (let k = 0; k < i; k++) sum -= a[i * m + k]! * b[k]!;
		b[i] = sum / a[i * m + i]!;
	}
	for (let i = m - 1; i >= 0; i--) {
		let sum = b[i]!;
		for (let k = i + 1; k < m; k++) sum -= a[k * m + i]! * b[k]!;
		b[i] = sum / a[i * m + i]!;
	}
}
