import type { SpeedCurve } from "../craft/model.ts";
import type { Mat3, Vec3 } from "../math/types.ts";

/**
 * The rigid body with its rotors at one operating point: all that the equations of motion read. Densities,
 * corner factors and load are already in the numbers.
 */
export interface Plant {
	readonly massKg: number;
	/** Of the whole, body axes from the reference point. */
	readonly centreOfMassM: Vec3;
	readonly inertiaKgM2: Mat3;
	readonly rotors: readonly PlantRotor[];
	readonly curve: SpeedCurve;
	readonly openCircuitV: number;
	readonly resistanceOhm: number;
	readonly efficiency: number;
	readonly avionicsPowerW: number;
	readonly brownOutV: number;
	readonly airDensityKgM3: number;
	readonly dragAreaM2: Vec3;
	readonly centreOfPressureM: Vec3;
	readonly groundEffect: boolean;
	readonly feetBelowM: number;
	readonly spanM: number;
	/** m/s^2, along +z of the world. */
	readonly gravityMPerSec2: number;
}

interface PlantRotor {
	readonly positionM: Vec3;
	readonly axis: Vec3;
	readonly spin: 1 | -1;
	readonly radiusM: number;
	readonly thrustCoefficient: number;
	readonly torqueCoefficient: number;
	readonly inflowCoefficient: number;
	readonly inPlaneDragCoefficient: number;
	readonly inertiaKgM2: number;
	readonly tauUpSec: number;
	readonly tauDownSec: number;
	readonly speedFactor: number;
}

/** m/s^2, ISO 2533:1975. */
export const STANDARD_GRAVITY = 9.80665;
