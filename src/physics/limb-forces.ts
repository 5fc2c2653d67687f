import type { Vec3 } from "../math/types.ts";
import type { Posture } from "./joint-tree.ts";
import {
	AIR_ROUGHNESS,
	AIR_SHEAR_SCALE,
	AIR_SHEARED,
	HEAD_SIZE,
	ROTOR_STRIDE,
	ROTORS,
} from "./kernel-layout.ts";
import { createLimbPoints } from "./limb-points.ts";

/** Forces from outside on the moving bodies: wind, the rotors' wash, a grip that is stuck. */
export interface LimbForces {
	/**
	 * Adds to `load` (torque about the centre of the whole, body axes 3; force, world 3) and to `along` (per joint, force times what the joint moves its
	 * point). `turn`: body to world, row by row. Allocates nothing.
	 */
	add(
		posture: Posture,
		x: Float64Array,
		rates: Float64Array,
		turn: Float64Array,
		air: Float64Array,
		p: Float64Array,
		load: Float64Array,
		along: Float64Array,
	): void;
}

/** Numbers of a grip that is held to the world: stiffness N/m (0: free), damping N s/m, and the place, world, NaN until it is known. */
export const GRIP = { stiffness: 0, damping: 1, place: 2, length: 5 } as const;

/** Drag coefficient times side area at a place of body `body`, from its centre in the axes of the pose with every hinge at 0. */
export interface DragPlace {
	readonly body: number;
	readonly fromCentreM: Vec3;
	readonly areaM2: number;
}

export interface LimbForcesSpec {
	readonly drag: readonly DragPlace[];
	/** The body that the grip is on and its place in that body's own folded axes from its centre. */
	readonly gripBody: number;
	readonly gripFromCentreM: Vec3;
	/** `GRIP.length` numbers, the caller's; the place is written where it is not known. */
	readonly grip: Float64Array;
	readonly airDensityKgM3: number;
	readonly rotorRadiusM: number;
	carries(i: number, b: number): boolean;
}

/**
 * Drag 1/2 rho CdA |v| v of each link at its middle and each load at its own, v through the air; below a rotor's disc the air moves down along its axis at vi (1 + d/sqrt(d^2 + R^2)),
 * vi = sqrt(T/(2 rho A)), inside a wake that narrows from R to 0.78 R within one radius (momentum theory with a vortex cylinder: Leishman, Principles of Helicopter
 * Aerodynamics, 2006, chapters 2 and 10, from memory). Wash on the airframe itself is not in the model.
 */
export function createLimbForces(spec: LimbForcesSpec): LimbForces {
	const drag = Float64Array.from(
		spec.drag.flatMap(({ body, fromCentreM, areaM2 }) => [body, ...fromCentreM, areaM2]),
	);
	const hold = spec.grip;
	const gripAt = Float64Array.from(spec.gripFromCentreM);
	const half = 0.5 * spec.airDensityKgM3;
	const radius = spec.rotorRadiusM;
	const disc = 2 * spec.airDensityKgM3 * Math.PI * radius * radius;
	const pull = new Float64Array(3);
	const { point, speed, force: given, placeOn, speedAt, apply } = createLimbPoints(spec.carries);
	const wind = new Float64Array(3);

	/** Wind at the height of the centre of the whole, world, into `wind`: what does not shear, and the log law as in the kernel. */
	const blow = (x: Float64Array, air: Float64Array): void => {
		const z0 = air[AIR_ROUGHNESS]!;
		const share = z0 > 0 ? Math.log(Math.max(-x[2]!, z0) / z0) * air[AIR_SHEAR_SCALE]! : 0;
		for (let k = 0; k < 3; k++) wind[k] = air[k]! + share * air[AIR_SHEARED + k]!;
	};

	/** Adds the rotors' wash at `point` to `speed` as speed through the air. */
	const washOut = (x: Float64Array, posture: Posture, p: Float64Array): void => {
		const { centre } = posture;
		const rotors = x.length - ROTORS;
		for (let i = 0; i < rotors; i++) {
			const at = HEAD_SIZE + ROTOR_STRIDE * i;
			const nx = p[at + 3]!;
			const ny = p[at + 4]!;
			const nz = p[at + 5]!;
			const dx = point[0]! - centre[0]! - p[at]!;
			const dy = point[1]! - centre[1]! - p[at + 1]!;
			const dz = point[2]! - centre[2]! - p[at + 2]!;
			const below = -(dx * nx + dy * ny + dz * nz);
			if (!(below > 0)) continue;
			const off2 = dx * dx + dy * dy + dz * dz - below * below;
			const wake = radius * (below >= radius ? 0.78 : 1 - (0.22 * below) / radius);
			if (off2 > wake * wake) continue;
			const w = x[ROTORS + i]!;
			const induced = Math.sqrt((p[at + 6]! * w * w) / disc);
			const wash = induced * (1 + below / Math.sqrt(below * below + radius * radius));
			// The air goes along -n: the point moves along +n through it.
			speed[0]! += wash * nx;
			speed[1]! += wash * ny;
			speed[2]! += wash * nz;
		}
	};

	return {
		add(posture, x, rates, turn, air, p, load, along) {
			const { centre } = posture;
			blow(x, air);
			for (let at = 0; at < drag.length; at += 5) {
				const b = drag[at]!;
				placeOn(posture, b, drag, at + 1);
				speedAt(posture, b, x, rates, turn);
				for (let k = 0; k < 3; k++)
					speed[k]! -= turn[k]! * wind[0]! + turn[3 + k]! * wind[1]! + turn[6 + k]! * wind[2]!;
				washOut(x, posture, p);
				const size = Math.sqrt(speed[0]! * speed[0]! + speed[1]! * speed[1]! + speed[2]! * speed[2]!);
				for (let k = 0; k < 3; k++) given[k] = -half * drag[at + 4]! * size * speed[k]!;
				apply(posture, b, turn, load, along);
			}
			if (!(hold[GRIP.stiffness]! > 0)) return;
			const b = spec.gripBody;
			placeOn(posture, b, gripAt, 0);
			speedAt(posture, b, x, rates, turn);
			for (let k = 0; k < 3; k++) {
				const place =
					x[k]! +
					turn[3 * k]! * (point[0]! - centre[0]!) +
					turn[3 * k + 1]! * (point[1]! - centre[1]!) +
					turn[3 * k + 2]! * (point[2]! - centre[2]!);
				if (Number.isNaN(hold[GRIP.place + k]!)) hold[GRIP.place + k] = place;
				const rate = turn[3 * k]! * speed[0]! + turn[3 * k + 1]! * speed[1]! + turn[3 * k + 2]! * speed[2]!;
				pull[k] = -hold[GRIP.stiffness]! * (place - hold[GRIP.place + k]!) - hold[GRIP.damping]! * rate;
			}
			for (let k = 0; k < 3; k++)
				given[k] = turn[k]! * pull[0]! + turn[3 + k]! * pull[1]! + turn[6 + k]! * pull[2]!;
			apply(posture, b, turn, load, along);
		},
	};
}
