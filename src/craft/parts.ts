import * as mat3 from "../math/mat3.ts";
import { fromEuler, toMatrix } from "../math/quaternion.ts";
import type { Mat3, Vec3 } from "../math/types.ts";
import * as vec3 from "../math/vec3.ts";
import type { PartInput } from "./input.ts";
import { combineBodies, pointInertia } from "./mass.ts";
import type { MassProperties } from "./model.ts";

/**
 * Inertia of a part about its own centre, own axes (uniform density; closed forms of any mechanics handbook, such as
 * Meriam and Kraige, Engineering Mechanics: Dynamics, table D/4):
 * box m/12 (b^2 + c^2); solid cylinder m r^2/2 along, m (3 r^2 + l^2)/12 across; thin rod m l^2/12 across, 0 along;
 * tube m (ro^2 + ri^2)/2 along, m (3 (ro^2 + ri^2) + l^2)/12 across.
 */
export function shapeInertia(part: PartInput): Mat3 {
	const m = part.mass;
	switch (part.shape) {
		case "point":
			return mat3.diagonal(0, 0, 0);
		case "box": {
			const [a, b, c] = part.size.map((edge) => edge * edge) as unknown as Vec3;
			return mat3.diagonal((m * (b + c)) / 12, (m * (a + c)) / 12, (m * (a + b)) / 12);
		}
		case "cylinder": {
			const r2 = (part.diameter / 2) ** 2;
			const across = (m * (3 * r2 + part.length ** 2)) / 12;
			return mat3.diagonal(across, across, (m * r2) / 2);
		}
		case "rod": {
			const across = (m * part.length ** 2) / 12;
			return mat3.diagonal(0, across, across);
		}
		case "tube": {
			const r2 = (part.outerDiameter / 2) ** 2 + (part.innerDiameter / 2) ** 2;
			const across = (m * (3 * r2 + part.length ** 2)) / 12;
			return mat3.diagonal((m * r2) / 2, across, across);
		}
	}
}

/** One part in body axes; a part with `at` stands at every place listed, its mass being that of ONE. */
export function partBodies(part: PartInput): MassProperties[] {
	const turn = toMatrix(fromEuler(part.orientation ?? [0, 0, 0]));
	const inertiaKgM2 = mat3.multiply(mat3.multiply(turn, shapeInertia(part)), mat3.transpose(turn));
	const places = part.at ?? [part.position ?? [0, 0, 0]];
	return places.map((centreOfMassM) => ({ massKg: part.mass, centreOfMassM, inertiaKgM2 }));
}

/** What one line of the parts list gives to the whole. */
export interface PartShare {
	readonly name: string;
	readonly count: number;
	readonly massKg: number;
	/** mass times position: divided by the whole mass, its share of the centre of mass. */
	readonly momentKgM: Vec3;
	/** About the whole's centre of mass, body axes: own inertia and parallel-axis term together. */
	readonly inertiaKgM2: Mat3;
}

/** The whole, and each line's share of it; the shares add up to the whole. */
export function sumParts(parts: readonly PartInput[]): {
	whole: MassProperties;
	shares: readonly PartShare[];
} {
	const bodies = parts.map(partBodies);
	const whole = combineBodies(bodies.flat());
	const shares = parts.map((part, i): PartShare => {
		const line = bodies[i]!;
		return {
			name: part.name,
			count: line.length,
			massKg: line.reduce((sum, b) => sum + b.massKg, 0),
			momentKgM: line.reduce<Vec3>(
				(sum, b) => vec3.add(sum, vec3.scale(b.centreOfMassM, b.massKg)),
				[0, 0, 0],
			),
			inertiaKgM2: line.reduce<Mat3>(
				(sum, b) =>
					mat3.add(
						sum,
						mat3.add(
							b.inertiaKgM2,
							pointInertia(b.massKg, vec3.subtract(b.centreOfMassM, whole.centreOfMassM)),
						),
					),
				mat3.diagonal(0, 0, 0),
			),
		};
	});
	return { whole, shares };
}
