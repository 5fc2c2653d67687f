import type { Mat3, Vec3 } from "../math/types.ts";

export interface MassProperties {
	readonly massKg: number;
	readonly centreOfMassM: Vec3;
	/** About the centre of mass, body axes, rotors counted as if locked. */
	readonly inertiaKgM2: Mat3;
}
