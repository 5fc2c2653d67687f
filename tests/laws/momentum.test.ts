import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { combineBodies } from "../../src/craft/mass.ts";
import { letGo, takeUp } from "../../src/flight/load-change.ts";
import * as mat3 from "../../src/math/mat3.ts";
import * as quaternion from "../../src/math/quaternion.ts";
import type { Quat, Vec3 } from "../../src/math/types.ts";
import * as vec3 from "../../src/math/vec3.ts";
import { step } from "../../src/physics/kernel.ts";
import { bodyRates } from "../../src/physics/kernel-layout.ts";
import { bareBody, bodyOf } from "../fixtures/plant.ts";

const num = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const vec = (size: number) => fc.tuple(num(-size, size), num(-size, size), num(-size, size));
/** A positive definite tensor that bodies can have: a box's, turned. */
const tensor = fc
	.tuple(num(0.05, 0.5), num(0.05, 0.5), num(0.02, 0.3), num(0.3, 3), vec(3))
	.map(([a, b, c, m, euler]) => {
		const r = quaternion.toMatrix(quaternion.fromEuler(euler as Vec3));
		const box = mat3.diagonal(
			(m * (b * b + c * c)) / 12,
			(m * (a * a + c * c)) / 12,
			(m * (a * a + b * b)) / 12,
		);
		return { massKg: m, inertia: mat3.multiply(mat3.multiply(r, box), mat3.transpose(r)) };
	});
const attitudeOf = (x: Float64Array) => quaternion.toMatrix(Array.from(x.slice(6, 10)) as unknown as Quat);
const part = (x: Float64Array, at: number): Vec3 => [x[at]!, x[at + 1]!, x[at + 2]!];

/** Angular momentum about the world's origin. */
function wholeMomentum(massKg: number, x: Float64Array): Vec3 {
	const own = mat3.times(attitudeOf(x), part(x, 10));
	return vec3.add(own, vec3.scale(vec3.cross(part(x, 0), part(x, 3)), massKg));
}

describe("momentum", () => {
	it("is conserved in free fall by any craft whose rotors change speed in vacuum", () => {
		fc.assert(
			fc.property(
				tensor,
				vec(4),
				vec(0.05),
				fc.array(fc.tuple(num(0, 900), num(0, 60), vec(1)), { minLength: 4, maxLength: 8 }),
				({ massKg, inertia }, rates, centre, rotors) => {
					const plant = bareBody([1, 1, 1], {
						massKg,
						inertiaKgM2: inertia,
						centreOfMassM: centre,
						gravityMPerSec2: 9.80665,
						rotors: rotors.map(([, , axis], i) => {
							const size = vec3.length(axis) || 1;
							return {
								...bareBody([1, 1, 1]).rotors[0]!,
								spin: i % 2 ? 1 : -1,
								axis: vec3.length(axis) > 0 ? vec3.scale(axis, 1 / size) : [0, 0, -1],
								inertiaKgM2: 5e-5,
							};
						}),
					});
					const body = bodyOf(
						plant,
						rates,
						rotors.map((r) => r[0]),
					);
					rotors.forEach((r, i) => {
						body.u[i] = r[1];
					});
					const before = mat3.times(attitudeOf(body.x), part(body.x, 10));
					for (let i = 0; i < 1000; i++) step(body.kernel, body.x, body.u, body.air, body.outside, 1e-3);
					const after = mat3.times(attitudeOf(body.x), part(body.x, 10));
					// Fast tumblers cost RK4 accuracy: its error grows with (rate x step)^4.
					const out = new Float64Array(3);
					bodyRates(body.kernel, body.x, out);
					fc.pre(Math.hypot(...out) < 6);
					expect(vec3.length(vec3.subtract(after, before))).toBeLessThan(1e-9 * (1e-3 + vec3.length(before)));
					expect(body.x[5]).toBeCloseTo(9.80665, 9);
				},
			),
			{ numRuns: 60, seed: 11 },
		);
	});

	const load = fc.tuple(num(0.05, 2), vec(0.3));
	it("linear and angular, about the world's origin, is conserved by taking a load up and by letting it go", () => {
		fc.assert(
			fc.property(
				tensor,
				vec(3),
				vec(4),
				vec(2),
				load,
				vec(1),
				({ massKg, inertia }, rates, velocity, place, [m, r], euler) => {
					const light = bareBody([1, 1, 1], {
						massKg,
						inertiaKgM2: inertia,
						centreOfMassM: [0.01, 0.02, 0.03],
					});
					const both = combineBodies([
						{ massKg, centreOfMassM: light.centreOfMassM, inertiaKgM2: inertia },
						{ massKg: m, centreOfMassM: r, inertiaKgM2: [0, 0, 0, 0, 0, 0, 0, 0, 0] },
					]);
					const heavy = bareBody([1, 1, 1], both);
					const body = bodyOf(light, rates);
					body.x.set(place, 0);
					body.x.set(velocity, 3);
					body.x.set(quaternion.fromEuler(euler), 6);
					const reference = (c: Vec3): Vec3 =>
						vec3.subtract(part(body.x, 0), mat3.times(attitudeOf(body.x), c));
					const origin = reference(light.centreOfMassM);
					const linear = vec3.scale(part(body.x, 3), massKg);
					const angular = wholeMomentum(massKg, body.x);
					takeUp(light, heavy, m, r, body.x);
					const size = 1 + vec3.length(angular) + vec3.length(linear);
					const near = (a: Vec3, b: Vec3): void =>
						expect(vec3.length(vec3.subtract(a, b)) / size).toBeLessThan(1e-12);
					near(reference(heavy.centreOfMassM), origin);
					near(vec3.scale(part(body.x, 3), heavy.massKg), linear);
					near(wholeMomentum(heavy.massKg, body.x), angular);
					// Let go again: the load keeps its place's velocity, the sum stays.
					const after = bodyOf(heavy, [0, 0, 0]);
					after.x.set(body.x);
					const out = new Float64Array(3);
					bodyRates(after.kernel, after.x, out);
					const spin = mat3.times(attitudeOf(after.x), [out[0]!, out[1]!, out[2]!]);
					const arm = mat3.times(attitudeOf(after.x), vec3.subtract(r, heavy.centreOfMassM));
					const loadVelocity = vec3.add(part(after.x, 3), vec3.cross(spin, arm));
					const loadPlace = vec3.add(part(after.x, 0), arm);
					letGo(heavy, light, [out[0]!, out[1]!, out[2]!], after.x);
					near(vec3.add(vec3.scale(part(after.x, 3), massKg), vec3.scale(loadVelocity, m)), linear);
					near(
						vec3.add(wholeMomentum(massKg, after.x), vec3.scale(vec3.cross(loadPlace, loadVelocity), m)),
						angular,
					);
				},
			),
			{ numRuns: 100, seed: 12 },
		);
	});
});
