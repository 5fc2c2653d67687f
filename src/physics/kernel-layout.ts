import * as mat3 from "../math/mat3.ts";
import type { Plant } from "./plant.ts";

/**
 * State x, a Float64Array of `stateSize(n)` for n rotors:
 * POSITION 3 and VELOCITY 3 of the centre of mass of the whole (NED, m, m/s); ATTITUDE 4 (w, x, y, z, body to world); MOMENTUM 3
 * (angular, about the centre of mass, body axes, N m s); GYRO 3 (low-passed body rates, rad/s); ESTIMATE 2 (the attitude
 * estimator's error in roll and pitch, rad); ROTORS n (rad/s, relative to the airframe).
 */
export const POSITION = 0;
export const VELOCITY = 3;
export const ATTITUDE = 6;
export const MOMENTUM = 10;
export const GYRO = 13;
export const ESTIMATE = 16;
export const ROTORS = 18;
export const stateSize = (rotorCount: number): number => ROTORS + rotorCount;

/**
 * Air, a Float64Array of AIR_SIZE: velocity (NED, m/s) of what does not shear at the step's start, middle and end (3 x 3);
 * AIR_SHEARED 3, the mean wind at 20 ft where it does; AIR_ROUGHNESS z0 (0: no shear) and AIR_SHEAR_SCALE 1/ln(20 ft/z0);
 * AIR_ROTATION 3, the air's own turning (p, q, r of turbulence, rad/s, body axes).
 */
export const AIR_SHEARED = 9;
export const AIR_ROUGHNESS = 12;
export const AIR_SHEAR_SCALE = 13;
export const AIR_ROTATION = 14;
export const AIR_SIZE = 17;

/** Outside load, a Float64Array of OUTSIDE_SIZE: torque (body, N m) 3, force at the centre of mass (world, N) 3. */
export const OUTSIDE_SIZE = 6;

/** Entry of `Kernel.work` that a driver reads: 1 once the battery had no real root. */
export const WORK_BROWN_OUT = 7;
/** Seconds of the step that `stepHeld` takes. */
export const WORK_STEP = 8;
/** The low-pass's weights: kernel.ts. */
export const WORK_WEIGHTS = 0;
/** The step that the low-pass's weights were made for. */
export const WORK_WEIGHED_STEP = 6;
/** What the body's momentum at the step's start, its first and last slope and its end add to the low-passed one: kernel.ts. */
export const WORK_CARRY = 9;
/** The body's own momentum, H - h, of the last slope's state, then its rate of change, 3 each. */
export const WORK_OWN = 13;
/** Of each stage, 6 each: specific force in body axes, then the last row of the rotation matrix, body to world. */
export const WORK_FELT = 19;
const WORK_SIZE = 43;

/**
 * Parameters p, a Float64Array, written by `loadPlant`; a limb's stepper moves what its pose moves. Head: 0 1/m; 1 g; 2 J^-1 (xx, yy, zz, xy,
 * xz, yz); 8 centre of pressure from the centre of mass; 11 density times drag areas / 2; 14 open-circuit voltage; 15 4 R / efficiency;
 * 16 4 R times the electronics' power; 17 low-pass, rad/s; 18 1 / estimator's time constant; 19 gyro bias in roll and pitch; 21 ground
 * effect; 22 rotors alike (1 or 0). Then ROTOR_STRIDE numbers per rotor: 0 hub from the centre of mass; 3 axis; 6 thrust, 7 torque, 8 inflow,
 * 9 in-plane drag coefficient; 10, 11 1 / time constant up, down; 12 momentum per rad/s, body axes; 15 torque per (rad/s)^2, body axes;
 * 18 (R/4)^2 vh^2 and 19 vh^2 per (rad/s)^2, vh the induced speed in hover; 20 R/2; 21 spin; 22 inertia.
 */
export const HEAD_SIZE = 23;
export const ROTOR_STRIDE = 23;

/** Sensors that are continuous in time. */
export interface ContinuousSensors {
	readonly gyroLowPassHz: number | null;
	/** Complementary estimator; null: the error stays where it is. */
	readonly estimatorTimeConstantSec: number | null;
	/** Gyro bias that the estimator integrates, roll and pitch. */
	readonly gyroBiasRadPerSec: readonly [number, number, number];
}

const NO_SENSORS: ContinuousSensors = {
	gyroLowPassHz: null,
	estimatorTimeConstantSec: null,
	gyroBiasRadPerSec: [0, 0, 0],
};

/** A plant as flat numbers with its scratch; one per flight, since `work` is written by every call. */
export interface Kernel {
	readonly rotorCount: number;
	readonly p: Float64Array;
	readonly work: Float64Array;
	/** Scratch of a step, each as long as a state: where a stage stands, its slope, the step's start. */
	readonly at: Float64Array;
	readonly dx: Float64Array;
	readonly start: Float64Array;
	/**
	 * Angular momentum of what else moves inside the body (a swinging limb), body axes; 0 but where a limb's stepper writes it. Rates are
	 * read and set less it; `derivative` and the steps know nothing of it, and are given a momentum that is already less.
	 */
	readonly inner: Float64Array;
}

/** All numbers 0. */
export function blankKernel(rotorCount: number): Kernel {
	const state = (): Float64Array => new Float64Array(stateSize(rotorCount));
	return {
		rotorCount,
		p: new Float64Array(HEAD_SIZE + rotorCount * ROTOR_STRIDE),
		work: new Float64Array(WORK_SIZE),
		at: state(),
		dx: state(),
		start: state(),
		inner: new Float64Array(3),
	};
}

/** @throws RangeError for a rotor count outside 4..8, a mass that is not positive, an inertia without an inverse. */
export function createKernel(plant: Plant, sensors: ContinuousSensors = NO_SENSORS): Kernel {
	const n = plant.rotors.length;
	if (n < 4 || n > 8) throw new RangeError(`createKernel: plant.rotors has ${n} entries, expected 4..8`);
	const kernel = blankKernel(n);
	loadPlant(kernel, plant, sensors);
	return kernel;
}

/** Writes another plant with as many rotors into a kernel (a load taken up or let go). */
export function loadPlant(kernel: Kernel, plant: Plant, sensors: ContinuousSensors): void {
	if (!(plant.massKg > 0)) throw new RangeError(`plant: massKg ${plant.massKg}, expected above 0`);
	const inverse = mat3.invert(plant.inertiaKgM2);
	const c = plant.centreOfMassM;
	const rho = plant.airDensityKgM3;
	const { p } = kernel;
	p.set([
		1 / plant.massKg,
		plant.gravityMPerSec2,
		inverse[0],
		inverse[4],
		inverse[8],
		(inverse[1] + inverse[3]) / 2,
		(inverse[2] + inverse[6]) / 2,
		(inverse[5] + inverse[7]) / 2,
		plant.centreOfPressureM[0] - c[0],
		plant.centreOfPressureM[1] - c[1],
		plant.centreOfPressureM[2] - c[2],
		0.5 * rho * plant.dragAreaM2[0],
		0.5 * rho * plant.dragAreaM2[1],
		0.5 * rho * plant.dragAreaM2[2],
		plant.openCircuitV,
		(4 * plant.resistanceOhm) / plant.efficiency,
		4 * plant.resistanceOhm * plant.avionicsPowerW,
		sensors.gyroLowPassHz === null ? 0 : 2 * Math.PI * sensors.gyroLowPassHz,
		sensors.estimatorTimeConstantSec === null ? 0 : 1 / sensors.estimatorTimeConstantSec,
		sensors.gyroBiasRadPerSec[0],
		sensors.gyroBiasRadPerSec[1],
		plant.groundEffect ? 1 : 0,
		alikeInPlane(plant) ? 1 : 0,
	]);
	plant.rotors.forEach((rotor, i) => {
		const [nx, ny, nz] = rotor.axis;
		const spinMomentum = -rotor.spin * rotor.inertiaKgM2;
		const dragTorque = rotor.spin * rotor.torqueCoefficient;
		const r = rotor.radiusM;
		const inducedPerLift = rho > 0 ? rotor.thrustCoefficient / (2 * rho * Math.PI * r * r) : 0;
		p.set(
			[
				rotor.positionM[0] - c[0],
				rotor.positionM[1] - c[1],
				rotor.positionM[2] - c[2],
				nx,
				ny,
				nz,
				rotor.thrustCoefficient,
				rotor.torqueCoefficient,
				rotor.inflowCoefficient,
				rotor.inPlaneDragCoefficient,
				1 / rotor.tauUpSec,
				1 / rotor.tauDownSec,
				spinMomentum * nx,
				spinMomentum * ny,
				spinMomentum * nz,
				dragTorque * nx,
				dragTorque * ny,
				dragTorque * nz,
				((r * r) / 16) * inducedPerLift,
				inducedPerLift,
				r / 2,
				rotor.spin,
				rotor.inertiaKgM2,
			],
			HEAD_SIZE + i * ROTOR_STRIDE,
		);
	});
	kernel.work[WORK_WEIGHED_STEP] = -1;
}

/** Whether all rotors stand upright in one plane and differ in place and spin alone. */
function alikeInPlane({ rotors }: Plant): boolean {
	const first = rotors[0]!;
	return rotors.every(
		(r) =>
			r.axis[0] === 0 &&
			r.axis[1] === 0 &&
			r.axis[2] === -1 &&
			r.positionM[2] === first.positionM[2] &&
			r.radiusM === first.radiusM &&
			r.thrustCoefficient === first.thrustCoefficient &&
			r.torqueCoefficient === first.torqueCoefficient &&
			r.inflowCoefficient === first.inflowCoefficient &&
			r.inPlaneDragCoefficient === first.inPlaneDragCoefficient &&
			r.inertiaKgM2 === first.inertiaKgM2 &&
			r.tauUpSec === first.tauUpSec &&
			r.tauDownSec === first.tauDownSec,
	);
}

/** What takes power behind the electronics supply, W; the battery's own resistance. */
export function loadElectronics(kernel: Kernel, resistanceOhm: number, powerW: number): void {
	kernel.p[16] = 4 * resistanceOhm * powerW;
}

/** Body rates of a state, rad/s: J^-1 (H - h). `out` 3. */
export function bodyRates(kernel: Kernel, x: Float64Array, out: Float64Array): void {
	const { p, rotorCount, inner } = kernel;
	let mx = x[MOMENTUM]! - inner[0]!;
	let my = x[MOMENTUM + 1]! - inner[1]!;
	let mz = x[MOMENTUM + 2]! - inner[2]!;
	for (let i = 0; i < rotorCount; i++) {
		const at = HEAD_SIZE + i * ROTOR_STRIDE;
		const w = x[ROTORS + i]!;
		mx -= p[at + 12]! * w;
		my -= p[at + 13]! * w;
		mz -= p[at + 14]! * w;
	}
	out[0] = p[2]! * mx + p[5]! * my + p[6]! * mz;
	out[1] = p[5]! * mx + p[3]! * my + p[7]! * mz;
	out[2] = p[6]! * mx + p[7]! * my + p[4]! * mz;
}

/** Battery voltage under the load of a state's rotors, V; NaN-free: without a real root, half the open-circuit voltage. */
export function batteryVoltage(kernel: Kernel, x: Float64Array): number {
	const { p, rotorCount } = kernel;
	let power = 0;
	for (let i = 0; i < rotorCount; i++) {
		const w = x[ROTORS + i]!;
		power += p[HEAD_SIZE + i * ROTOR_STRIDE + 7]! * w * w * w;
	}
	const open = p[14]!;
	return 0.5 * (open + Math.sqrt(Math.max(0, open * open - p[15]! * power - p[16]!)));
}

/** Sets x's momentum so that the body turns at `rates` (rad/s, 3) with its present rotor speeds. */
export function setBodyRates(
	kernel: Kernel,
	inertia: Plant["inertiaKgM2"],
	x: Float64Array,
	rates: ArrayLike<number>,
): void {
	const h = mat3.times(inertia, [rates[0]!, rates[1]!, rates[2]!]);
	for (let axis = 0; axis < 3; axis++) {
		let sum = h[axis as 0 | 1 | 2] + kernel.inner[axis]!;
		for (let i = 0; i < kernel.rotorCount; i++)
			sum += kernel.p[HEAD_SIZE + i * ROTOR_STRIDE + 12 + axis]! * x[ROTORS + i]!;
		x[MOMENTUM + axis] = sum;
	}
}
