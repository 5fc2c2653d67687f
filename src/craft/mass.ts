import * as mat3 from "../math/mat3.ts";
import type { Mat3, Vec3 } from "../math/types.ts";
import * as vec3 from "../math/vec3.ts";
import type { MassProperties } from "./model.ts";

/** Inertia of a point mass at r from the axis point: m (r.r 1 - r r^T) (Steiner's parallel-axis term). */
export function pointInertia(massKg: number, [x, y, z]: Vec3): Mat3 {
	const m = massKg;
	return [
		m * (y * y + z * z),
		-m * x * y,
		-m * x * z,
		-m * x * y,
		m * (x * x + z * z),
		-m * y * z,
		-m * x * z,
		-m * y * z,
		m * (x * x + y * y),
	];
}

/** Rigidly joined bodies as one; each body's inertia is about its own centre of mass, body axes. */
export function combineBodies(bodies: readonly MassProperties[]): MassProperties {
	const massKg = bodies.reduce((sum, b) => sum + b.massKg, 0);
	const moment = bodies.reduce<Vec3>(
		(sum, b) => vec3.add(sum, vec3.scale(b.centreOfMassM, b.massKg)),
		[0, 0, 0],
	);
	const centreOfMassM = massKg > 0 ? vec3.scale(moment, 1 / massKg) : ([0, 0, 0] as Vec3);
	const inertiaKgM2 = bodies.reduce<Mat3>(
		(sum, b) =>
			mat3.add(
				mat3.add(sum, b.inertiaKgM2),
				pointInertia(b.massKg, vec3.subtract(b.centreOfMassM, centreOfMassM)),
			),
		[0, 0, 0, 0, 0, 0, 0, 0, 0],
	);
	return { massKg, centreOfMassM, inertiaKgM2 };
}
