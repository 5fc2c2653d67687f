import { BODY, type Posture } from "./joint-tree.ts";

/** Points of a tree's bodies, and forces at them, without allocating: what is asked for stands in the arrays. Body -1: the frame. */
export interface LimbPoints {
	/** The point last placed, body axes from the reference point. */
	readonly point: Float64Array;
	/** Its speed against the ground, body axes. */
	readonly speed: Float64Array;
	/** A force at it, body axes; the caller's. */
	readonly force: Float64Array;
	/** `from[at..]` off the body's centre in its own axes (the frame's: off the reference point) into `point`. */
	placeOn(posture: Posture, b: number, from: Float64Array, at: number): void;
	/** Speed of `point` as part of body `b`. */
	speedAt(posture: Posture, b: number, x: Float64Array, rates: Float64Array, turn: Float64Array): void;
	/** `force` acts at `point` of body `b`: adds to `load` (torque about the centre of the whole, body 3; force, world 3) and `along` (per joint). */
	apply(posture: Posture, b: number, turn: Float64Array, load: Float64Array, along: Float64Array): void;
}

export function createLimbPoints(carries: (i: number, b: number) => boolean): LimbPoints {
	const point = new Float64Array(3);
	const speed = new Float64Array(3);
	const force = new Float64Array(3);
	return {
		point,
		speed,
		force,
		placeOn({ bodies }, b, from, at) {
			if (b < 0) {
				for (let k = 0; k < 3; k++) point[k] = from[at + k]!;
				return;
			}
			const to = BODY.length * b;
			for (let k = 0; k < 3; k++)
				point[k] =
					bodies[to + BODY.centre + k]! +
					bodies[to + 3 * k]! * from[at]! +
					bodies[to + 3 * k + 1]! * from[at + 1]! +
					bodies[to + 3 * k + 2]! * from[at + 2]!;
		},
		speedAt({ bodies, centre, centreSpeed }, b, x, rates, turn) {
			for (let k = 0; k < 3; k++)
				speed[k] = turn[k]! * x[3]! + turn[3 + k]! * x[4]! + turn[6 + k]! * x[5]! - centreSpeed[k]!;
			const rx = point[0]! - centre[0]!;
			const ry = point[1]! - centre[1]!;
			const rz = point[2]! - centre[2]!;
			speed[0]! += rates[1]! * rz - rates[2]! * ry;
			speed[1]! += rates[2]! * rx - rates[0]! * rz;
			speed[2]! += rates[0]! * ry - rates[1]! * rx;
			if (b < 0) return;
			const at = BODY.length * b;
			const sx = point[0]! - bodies[at + BODY.centre]!;
			const sy = point[1]! - bodies[at + BODY.centre + 1]!;
			const sz = point[2]! - bodies[at + BODY.centre + 2]!;
			const wx = bodies[at + BODY.rate]!;
			const wy = bodies[at + BODY.rate + 1]!;
			const wz = bodies[at + BODY.rate + 2]!;
			speed[0]! += bodies[at + BODY.speed]! + wy * sz - wz * sy;
			speed[1]! += bodies[at + BODY.speed + 1]! + wz * sx - wx * sz;
			speed[2]! += bodies[at + BODY.speed + 2]! + wx * sy - wy * sx;
		},
		apply({ bodies, centre, count }, b, turn, load, along) {
			const rx = point[0]! - centre[0]!;
			const ry = point[1]! - centre[1]!;
			const rz = point[2]! - centre[2]!;
			const fx = force[0]!;
			const fy = force[1]!;
			const fz = force[2]!;
			load[0]! += ry * fz - rz * fy;
			load[1]! += rz * fx - rx * fz;
			load[2]! += rx * fy - ry * fx;
			for (let k = 0; k < 3; k++)
				load[3 + k]! += turn[3 * k]! * fx + turn[3 * k + 1]! * fy + turn[3 * k + 2]! * fz;
			for (let i = 0; i < count && i <= b; i++) {
				if (!carries(i, b)) continue;
				const at = BODY.length * i;
				const dx = point[0]! - bodies[at + BODY.hinge]!;
				const dy = point[1]! - bodies[at + BODY.hinge + 1]!;
				const dz = point[2]! - bodies[at + BODY.hinge + 2]!;
				const ax = bodies[at + BODY.axis]!;
				const ay = bodies[at + BODY.axis + 1]!;
				const az = bodies[at + BODY.axis + 2]!;
				along[i]! += (ay * dz - az * dy) * fx + (az * dx - ax * dz) * fy + (ax * dy - ay * dx) * fz;
			}
		},
	};
}
