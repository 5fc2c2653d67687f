import type { Mixer } from "../control/mixer.ts";
import type { GainSet } from "../control/spec.ts";
import * as mat3 from "../math/mat3.ts";
import type { Mat3, Vec3 } from "../math/types.ts";
import * as vec3 from "../math/vec3.ts";
import type { Plant } from "../physics/plant.ts";
import type { Layout } from "./layout.ts";
import { eulerAngles, type SensorModel } from "./sensors.ts";

/** Where what was built differs from what the firmware believes; what is left out is as believed. */
export interface Wiring {
	/** Output i turns the motor of rotor `drives[i]`. */
	readonly drives?: readonly number[];
	/** What the loop reads is this matrix times the turn rates in the craft's axes. */
	readonly gyro?: Mat3;
	/** The sensor board sits turned by this rotation B, craft's axes to board's: rates B w, attitude R B^T. */
	readonly board?: Mat3;
	/** Roll and pitch angles are read this many times too large. */
	readonly angleFactor?: number;
	/** What is asked of roll, pitch and yaw arrives times 1 or -1. */
	readonly stickSigns?: Vec3;
	readonly propellers?: readonly { readonly rotor: number; readonly fault: PropellerFault }[];
	/** The mixer's yaw column has the wrong sign. */
	readonly yawReversed?: boolean;
	/** What the gains amount to in the craft's code, where that is not what they are meant to be. */
	readonly gainSet?: GainSet;
}

/** 'upsideDown': right hand, upper face below: still pushes up. 'wrongHand': made for the other sense of turning: pushes down. */
export type PropellerFault = "upsideDown" | "wrongHand";

/**
 * Either way the blades run with their sharp edge first: share of the thrust at the same speed, and of the torque. Common
 * practice, no source: a propeller run backwards is said to keep half to two thirds of its thrust and to need more torque.
 */
export const BACKWARD_THRUST = 0.6;
export const BACKWARD_TORQUE = 1.2;

interface Wired {
	readonly wiring?: Wiring;
}

/**
 * The plant as built. A propeller that pushes down has its axis and its spin turned over together: thrust changes sides,
 * drag torque s k n and spin momentum -s J n keep their sense.
 * @throws RangeError for a rotor that is not there
 */
export function wiredPlant({ wiring }: Wired, plant: Plant): Plant {
	const propellers = wiring?.propellers;
	if (!propellers || propellers.length === 0) return plant;
	const rotors = [...plant.rotors];
	for (const { rotor: at, fault } of propellers) {
		const rotor = rotors[at];
		if (!rotor)
			throw new RangeError(`wiring: propellers has rotor ${at}, expected 0 to ${plant.rotors.length - 1}`);
		const weak = {
			...rotor,
			thrustCoefficient: BACKWARD_THRUST * rotor.thrustCoefficient,
			torqueCoefficient: BACKWARD_TORQUE * rotor.torqueCoefficient,
		};
		rotors[at] =
			fault === "upsideDown"
				? weak
				: { ...weak, axis: vec3.scale(rotor.axis, -1), spin: rotor.spin === 1 ? -1 : 1 };
	}
	return { ...plant, rotors };
}

/** The mixer as programmed: yaw's column with the other sign, which is u_yaw with the other sign. */
export function wiredMixer({ wiring }: Wired, mixer: Mixer): Mixer {
	if (!wiring?.yawReversed) return mixer;
	return {
		...mixer,
		table: mixer.table.map((value, i) => (i % 3 === 2 ? -value : value)),
		mix(input, at, out, uAt, deliveredAt, commandsAt) {
			out[uAt + 2] = -out[uAt + 2]!;
			const short = mixer.mix(input, at, out, uAt, deliveredAt, commandsAt);
			out[uAt + 2] = -out[uAt + 2]!;
			out[deliveredAt + 2] = -out[deliveredAt + 2]!;
			return short;
		},
	};
}

/**
 * For each rotor the output that turns its motor.
 * @throws RangeError unless `drives` names every rotor once
 */
export function outputOfRotor({ wiring }: Wired, rotorCount: number): Int32Array {
	const drives = wiring?.drives ?? Array.from({ length: rotorCount }, (_, i) => i);
	const outputs = new Int32Array(rotorCount).fill(-1);
	drives.forEach((rotor, output) => {
		outputs[rotor] = output;
	});
	if (drives.length !== rotorCount || outputs.includes(-1))
		throw new RangeError(`wiring: drives ${drives.join(", ")}, expected each of 0 to ${rotorCount - 1} once`);
	return outputs;
}

/** What is asked of an axis (0 roll, 1 pitch, 2 yaw) arrives times this. */
export const askedSign = ({ wiring }: Wired, axis: number): number =>
	wiring?.stickSigns?.[axis as 0 | 1 | 2] ?? 1;

/** What the loop reads instead, in place. Allocates nothing. */
export interface WrongReadings {
	rates(out: Float64Array, at: number): void;
	/** Roll, pitch, yaw as the right build's estimator has them, at kernel state x. */
	angles(x: Float64Array, out: Float64Array, at: number): void;
}

/**
 * The board's attitude enters as the difference of its true Euler angles to the craft's, so that estimator error, level
 * offset and noise stay what they are; rates are turned with all that is in them. Null where the readings are right.
 */
export function wrongReadings({ wiring }: Wired): WrongReadings | null {
	if (!wiring || (!wiring.gyro && !wiring.board && wiring.angleFactor === undefined)) return null;
	const { board, angleFactor = 1 } = wiring;
	const m = Float64Array.from(
		mat3.multiply(wiring.gyro ?? mat3.diagonal(1, 1, 1), board ?? mat3.diagonal(1, 1, 1)),
	);
	// The board's own attitude as a kernel state of which only the quaternion is filled.
	const turned = new Float64Array(10);
	const unturn = Float64Array.from(board ? conjugate(board) : [1, 0, 0, 0]);
	const own = new Float64Array(3);
	const craft = new Float64Array(3);
	return {
		rates(out, at) {
			const [p, q, r] = [out[at]!, out[at + 1]!, out[at + 2]!];
			for (let i = 0; i < 3; i++) out[at + i] = m[3 * i]! * p + m[3 * i + 1]! * q + m[3 * i + 2]! * r;
		},
		angles(x, out, at) {
			if (board) {
				rightTimes(x, unturn, turned);
				eulerAngles(turned, own, 0);
				eulerAngles(x, craft, 0);
				for (let i = 0; i < 3; i++) out[at + i]! += own[i]! - craft[i]!;
			}
			out[at]! *= angleFactor;
			out[at + 1]! *= angleFactor;
		},
	};
}

export function wiredSensors(sensors: SensorModel, wrong: WrongReadings | null): SensorModel {
	if (!wrong) return sensors;
	return {
		gyro(x, out, at) {
			sensors.gyro(x, out, at);
			wrong.rates(out, at);
		},
		angles(x, out, at) {
			sensors.angles(x, out, at);
			wrong.angles(x, out, at);
		},
	};
}

/** Readings held from before the first sample. */
export function wireHeld(
	wrong: WrongReadings | null,
	layout: Layout,
	s: Float64Array,
	x: Float64Array,
): void {
	wrong?.rates(s, layout.rates);
	wrong?.angles(x, s, layout.angles);
}

/** Quaternion (w, x, y, z) of B^T, for a rotation about one axis or several; B is a proper rotation. */
function conjugate(b: Mat3): [number, number, number, number] {
	const w = 0.5 * Math.sqrt(Math.max(0, 1 + b[0] + b[4] + b[8]));
	const size = (d: number): number => 0.5 * Math.sqrt(Math.max(0, 1 + d));
	const sign = (v: number): number => (v < 0 ? -1 : 1);
	const x = size(b[0] - b[4] - b[8]) * sign(b[7] - b[5]);
	const y = size(b[4] - b[0] - b[8]) * sign(b[2] - b[6]);
	const z = size(b[8] - b[0] - b[4]) * sign(b[3] - b[1]);
	return [w, -x, -y, -z];
}

/** out[6..9] = x[6..9] times q. */
function rightTimes(x: Float64Array, q: Float64Array, out: Float64Array): void {
	const [w, i, j, k] = [x[6]!, x[7]!, x[8]!, x[9]!];
	const [a, b, c, d] = [q[0]!, q[1]!, q[2]!, q[3]!];
	out[6] = w * a - i * b - j * c - k * d;
	out[7] = w * b + i * a + j * d - k * c;
	out[8] = w * c - i * d + j * a + k * b;
	out[9] = w * d + i * c - j * b + k * a;
}
