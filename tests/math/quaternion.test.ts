import fc from "fast-check";
import { expect, test } from "vitest";
import * as mat3 from "../../src/math/mat3.ts";
import * as quaternion from "../../src/math/quaternion.ts";
import type { Mat3, Vec3 } from "../../src/math/types.ts";

const angle = (limit: number) => fc.double({ min: -limit, max: limit, noNaN: true });
const euler = fc.tuple(angle(3.1), angle(1.5), angle(3.1));

/** Z-Y-X: yaw about z first, then pitch about the new y, then roll about the new x. */
function elementary([roll, pitch, yaw]: Vec3): Mat3 {
	const [cr, sr, cp, sp] = [Math.cos(roll), Math.sin(roll), Math.cos(pitch), Math.sin(pitch)];
	const [cy, sy] = [Math.cos(yaw), Math.sin(yaw)];
	const x: Mat3 = [1, 0, 0, 0, cr, -sr, 0, sr, cr];
	const y: Mat3 = [cp, 0, sp, 0, 1, 0, -sp, 0, cp];
	const z: Mat3 = [cy, -sy, 0, sy, cy, 0, 0, 0, 1];
	return mat3.multiply(z, mat3.multiply(y, x));
}

test("Euler angles to quaternion and back", () => {
	fc.assert(
		fc.property(euler, (angles) => {
			const back = quaternion.toEuler(quaternion.fromEuler(angles));
			for (let i = 0; i < 3; i++) expect(Math.abs(back[i]! - angles[i]!)).toBeLessThan(1e-9);
		}),
	);
});

test("the rotation matrix is the product of the three elementary rotations", () => {
	fc.assert(
		fc.property(euler, (angles) => {
			const r = quaternion.toMatrix(quaternion.fromEuler(angles));
			const product = elementary(angles);
			for (let i = 0; i < 9; i++) expect(Math.abs(r[i]! - product[i]!)).toBeLessThan(1e-12);
		}),
	);
});

test("signs: pitch up lifts the nose (north axis points up, negative down)", () => {
	const r = quaternion.toMatrix(quaternion.fromEuler([0, 0.1, 0]));
	const nose = mat3.times(r, [1, 0, 0]);
	expect(nose[2]).toBeCloseTo(-Math.sin(0.1), 15);
	const right = mat3.times(quaternion.toMatrix(quaternion.fromEuler([0.1, 0, 0])), [0, 1, 0]);
	expect(right[2]).toBeCloseTo(Math.sin(0.1), 15);
});
