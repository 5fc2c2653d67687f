import { derivative } from "./kernel.ts";
import {
	AIR_SIZE,
	ATTITUDE,
	bodyRates,
	ESTIMATE,
	GYRO,
	HEAD_SIZE,
	type Kernel,
	MOMENTUM,
	OUTSIDE_SIZE,
	POSITION,
	ROTOR_STRIDE,
	ROTORS,
	stateSize,
	VELOCITY,
	WORK_STEP,
} from "./kernel-layout.ts";
import { breathe, carryGyro, PIECE } from "./loaded-step.ts";
import type { Plant } from "./plant.ts";
import type { PivotSpec } from "./rig-spec.ts";
import type { Stepper } from "./stepper.ts";

/** A rig that can be put into the pose it starts from. */
export interface Rig extends Stepper {
	/** x, a level hover, becomes still on the rig at its start angle, rotors as they are. */
	hold(kernel: Kernel, x: Float64Array, own: Float64Array): void;
	reload(plant: Plant): void;
}

/** Of `own`: angle and rate as the last step left them, and the inertia they belonged to. */
const OWN = { angle: 0, rate: 1, inertia: 2, length: 3 } as const;

/** A step times the decay that friction alone makes stays under this. */
const DECAY = 0.25;

/** Inertia about a pivot's axis: the craft's own, that of its mass swinging about the point, and the rig's; and the middle's place from it. */
export function pivotInertia(plant: Plant, spec: PivotSpec) {
	const axis = AXIS[spec.axis];
	const [r0, r1, r2] = [0, 1, 2].map((i) => plant.centreOfMassM[i]! - spec.throughM[i]!) as [
		number,
		number,
		number,
	];
	const arm = [r0, r1, r2];
	const own = plant.inertiaKgM2[(4 * axis) as 0];
	const swinging = plant.massKg * (arm[(axis + 1) % 3]! ** 2 + arm[(axis + 2) % 3]! ** 2);
	return {
		own,
		swinging,
		rig: spec.addedInertiaKgM2,
		whole: own + swinging + spec.addedInertiaKgM2,
		armM: [r0, r1, r2] as const,
	};
}

const AXIS = { roll: 0, pitch: 1, yaw: 2 } as const;

/**
 * One degree of freedom (docs/model.md section 13): with a the axis, r from the pivot to the centre of mass, F and tau what acts without the rig,
 * (a.J a + M r_perp^2 + I_rig) theta'' = a.(tau + r x F) - c theta' - a.h'. The gyroscopic torque of the rotors is across the axis: the bearing takes it. Position, velocity, attitude and
 * momentum are made anew from angle and rate at every stage, so nothing drifts off the pivot.
 */
export function createPivotRig(plant: Plant, spec: PivotSpec): Rig {
	const axis = AXIS[spec.axis];
	const i1 = (axis + 1) % 3;
	const i2 = (axis + 2) % 3;
	const n = plant.rotors.length;
	const size = stateSize(n);
	/** The pivot in the world; set by `hold`, from where the craft would hover. */
	const place = new Float64Array(3);
	/** r of the state as it is posed, along i1 and i2, world axes. */
	const swung = new Float64Array(2);
	/** Column `axis` of J, then the arm's three. */
	const built = new Float64Array(6);
	const inertia = new Float64Array(1);
	const now = new Float64Array(2);
	const reload = (changed: Plant): void => {
		const found = pivotInertia(changed, spec);
		for (let i = 0; i < 3; i++) {
			built[i] = changed.inertiaKgM2[(3 * i + axis) as 0];
			built[3 + i] = found.armM[i]!;
		}
		inertia[0] = found.whole;
	};
	reload(plant);

	/** Everything of x but rotors and sensors, from `angles[0]` and `angles[1]`, its rate. */
	const pose = (kernel: Kernel, x: Float64Array, angles: Float64Array): void => {
		const angle = angles[0]!;
		const rate = angles[1]!;
		const cos = Math.cos(angle);
		const sin = Math.sin(angle);
		const a = built[3 + i1]! * cos - built[3 + i2]! * sin;
		const b = built[3 + i1]! * sin + built[3 + i2]! * cos;
		swung[0] = a;
		swung[1] = b;
		x[POSITION + axis] = place[axis]! + built[3 + axis]!;
		x[POSITION + i1] = place[i1]! + a;
		x[POSITION + i2] = place[i2]! + b;
		x[VELOCITY + axis] = 0;
		x[VELOCITY + i1] = -rate * b;
		x[VELOCITY + i2] = rate * a;
		x[ATTITUDE] = Math.cos(angle / 2);
		x[ATTITUDE + 1 + axis] = Math.sin(angle / 2);
		x[ATTITUDE + 1 + i1] = 0;
		x[ATTITUDE + 1 + i2] = 0;
		for (let i = 0; i < 3; i++) {
			let sum = built[i]! * rate;
			for (let k = 0; k < n; k++) sum += kernel.p[HEAD_SIZE + k * ROTOR_STRIDE + 12 + i]! * x[ROTORS + k]!;
			x[MOMENTUM + i] = sum;
		}
	};

	const stage = new Float64Array(size);
	const sum = new Float64Array(size);
	const slope = new Float64Array(size);
	const load = new Float64Array(OUTSIDE_SIZE);
	const airNow = new Float64Array(AIR_SIZE);
	const rates0 = new Float64Array(3);
	const rates1 = new Float64Array(3);
	const piece = new Float64Array(PIECE.length);
	/** Angle and rate: where the piece began, at the stage, summed up; then the stage's acceleration. */
	const begun = new Float64Array(2);
	const summed = new Float64Array(2);
	const turning = new Float64Array(1);

	/** Slope of everything at a posed stage: rotors and the sensors' own in `slope`, the turning in turning[0]. */
	const accelerate = (kernel: Kernel, u: Float64Array, outside: Float64Array): void => {
		const { p } = kernel;
		derivative(kernel, stage, u, airNow, outside, slope);
		let reaction = 0;
		for (let k = 0; k < n; k++) reaction += p[HEAD_SIZE + k * ROTOR_STRIDE + 12 + axis]! * slope[ROTORS + k]!;
		const a = swung[0]!;
		const b = swung[1]!;
		const mass = 1 / p[0]!;
		const rate = now[1]!;
		const torque =
			slope[MOMENTUM + axis]! +
			mass * (a * slope[VELOCITY + i2]! - b * slope[VELOCITY + i1]!) -
			spec.frictionNmSec * rate -
			reaction;
		const turn = torque / inertia[0]!;
		turning[0] = turn;
		if (!(p[18]! > 0)) return;
		// The estimator sees the specific force that the bearing makes, so it is asked again with the bearing's force.
		for (let i = 0; i < 6; i++) load[i] = outside[i]!;
		load[3 + axis]! += mass * -slope[VELOCITY + axis]!;
		load[3 + i1]! += mass * (-turn * b - rate * rate * a - slope[VELOCITY + i1]!);
		load[3 + i2]! += mass * (turn * a - rate * rate * b - slope[VELOCITY + i2]!);
		derivative(kernel, stage, u, airNow, load, slope);
	};

	const takePiece = (
		kernel: Kernel,
		x: Float64Array,
		u: Float64Array,
		air: Float64Array,
		outside: Float64Array,
	): void => {
		const h = piece[PIECE.seconds]!;
		now.set(begun);
		summed.set(begun);
		stage.set(x);
		sum.set(x);
		for (let s = 0; s < 4; s++) {
			breathe(air, airNow, piece, s);
			pose(kernel, stage, now);
			accelerate(kernel, u, outside);
			const weight = s === 0 || s === 3 ? h / 6 : h / 3;
			const ahead = s < 2 ? h / 2 : h;
			summed[0]! += weight * now[1]!;
			summed[1]! += weight * turning[0]!;
			now[0] = begun[0]! + ahead * now[1]!;
			now[1] = begun[1]! + ahead * turning[0]!;
			for (let i = ESTIMATE; i < size; i++) {
				sum[i]! += weight * slope[i]!;
				stage[i] = x[i]! + ahead * slope[i]!;
			}
		}
		for (let i = ESTIMATE; i < size; i++) x[i] = sum[i]!;
		const stop = spec.stopAngleRad;
		if (stop !== null && (summed[0]! > stop || summed[0]! < -stop)) {
			const side = summed[0]! > 0 ? 1 : -1;
			summed[0] = side * stop;
			if (side * summed[1]! > 0) summed[1] = 0;
		}
		rates0.fill(0);
		rates1.fill(0);
		rates0[axis] = begun[1]!;
		rates1[axis] = summed[1]!;
		begun.set(summed);
		carryGyro(kernel.p, x, rates0, rates1, piece);
	};

	return {
		ownLength: OWN.length,
		idle: () => false,
		reload,
		hold(kernel, x, own) {
			for (let i = 0; i < 3; i++) place[i] = x[POSITION + i]! - built[3 + i]!;
			now[0] = spec.startAngleRad;
			now[1] = 0;
			pose(kernel, x, now);
			for (let i = 0; i < 3; i++) x[GYRO + i] = 0;
			own[OWN.angle] = now[0]!;
			own[OWN.rate] = 0;
			own[OWN.inertia] = inertia[0]!;
		},
		step(kernel, x, u, air, outside, own) {
			const { work } = kernel;
			const whole = work[WORK_STEP]!;
			if (own[OWN.inertia] !== inertia[0]!) {
				// A load taken up was at rest; one let go leaves the rest turning as it did.
				const share = own[OWN.inertia]! / inertia[0]!;
				begun[0] = own[OWN.angle]!;
				begun[1] = own[OWN.rate]! * Math.min(1, share);
			} else {
				bodyRates(kernel, x, rates0);
				begun[0] = 2 * Math.atan2(x[ATTITUDE + 1 + axis]!, x[ATTITUDE]!);
				begun[1] = rates0[axis]!;
			}
			const pieces = Math.max(1, Math.ceil((whole * spec.frictionNmSec) / inertia[0]! / DECAY));
			piece[PIECE.count] = pieces;
			piece[PIECE.seconds] = whole / pieces;
			for (let i = 0; i < pieces; i++) {
				piece[PIECE.index] = i;
				takePiece(kernel, x, u, air, outside);
			}
			pose(kernel, x, begun);
			own[OWN.angle] = begun[0]!;
			own[OWN.rate] = begun[1]!;
			own[OWN.inertia] = inertia[0]!;
			work[WORK_STEP] = whole;
		},
	};
}
