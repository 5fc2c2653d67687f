import type { Vec3 } from "../math/types.ts";
import * as vec3 from "../math/vec3.ts";
import {
	anyTouches,
	type Contacts,
	createContacts,
	DECAY,
	FINE,
	FOOT_HELD,
	FOOT_STRIDE,
	keepRates,
	mayTouch,
	OWN_FEET,
	OWN_SINCE,
	ownSize,
	settleContacts,
	storedIn,
} from "./contact-law.ts";
import { addLoads, type Feet, place } from "./ground-feet.ts";
import { restPose } from "./ground-rest.ts";
import { type GroundSpec, groundNormal } from "./ground-spec.ts";
import { stepHeld } from "./kernel.ts";
import { type Kernel, WORK_STEP } from "./kernel-layout.ts";
import { createLoadedStep, PIECE } from "./loaded-step.ts";
import type { Plant } from "./plant.ts";
import type { Stepper } from "./stepper.ts";

/** What a craft can stand on. */
export interface Standing {
	/** At rest on its feet, springs loaded, still, into x and own; a reason where it does not stand. */
	rest(x: Float64Array, own: Float64Array): string;
	/** Holds a foot to the ground from its next touch on until it is pulled with more than holdN. @throws RangeError for no such foot */
	holdFoot(own: Float64Array, foot: number, holdN: number): void;
}

export interface Ground extends Stepper, Standing {
	/** The craft's mass has changed; the ground has not. */
	reload(plant: Plant): void;
	/** Of springs and bristles, J. */
	stored(kernel: Kernel, x: Float64Array, own: Float64Array): number;
}

/**
 * Feet on a plane (docs/model.md section 12): classical Runge-Kutta over the kernel's own derivative with the ground's loads added at each stage,
 * in sub-steps short against the feet's springs; where no foot can touch within the step, the kernel's own step. The gyro's low-pass is carried exactly for rates
 * that change evenly over a sub-step. `feetM`: body axes from the reference point.
 */
export function createGround(plant: Plant, feetM: readonly Vec3[], spec: GroundSpec): Ground {
	const count = feetM.length;
	const weightN = plant.massKg * plant.gravityMPerSec2;
	const feet: Feet = {
		...createContacts(count, 0, count, weightN, plant.massKg, spec, groundNormal(spec)),
		arms: new Float64Array(3 * count),
		rates: new Float64Array(3),
	};
	const { normal } = feet;
	// Reach of the farthest point from the centre of mass; fastest substep rate, 1/s.
	const held = new Float64Array(2);
	let now = plant;
	const reload = (changed: Plant): void => {
		now = changed;
		const c = changed.centreOfMassM;
		let reach = 0;
		let mobility = 0;
		const [a, b, d] = [changed.inertiaKgM2[0], changed.inertiaKgM2[4], changed.inertiaKgM2[8]];
		feetM.forEach((foot, i) => {
			const arm = vec3.subtract(foot, c);
			feet.arms.set(arm, 3 * i);
			const r = vec3.length(arm);
			reach = Math.max(reach, r);
			mobility += 1 / changed.massKg + (r * r) / Math.min(a, b, d);
		});
		for (const rotor of changed.rotors)
			reach = Math.max(reach, vec3.length(vec3.subtract(rotor.positionM, c)) + rotor.radiusM);
		held[0] = reach;
		held[1] = Math.max(Math.sqrt(feet.stiffness * mobility) / FINE, (feet.damping * mobility) / DECAY);
	};
	reload(plant);

	const before = new Float64Array(count);
	const piece = new Float64Array(PIECE.length);
	const takePiece = createLoadedStep(plant.rotors.length, (kernel, x, own, outside, load) =>
		addLoads(feet, kernel, x, own, outside, load),
	);

	/** Whether a foot may touch within the next `kernel.work[WORK_STEP]`. */
	const near = (kernel: Kernel, x: Float64Array, own: Float64Array): boolean => {
		place(feet, kernel, x);
		for (let foot = 0; foot < count; foot++)
			if (mayTouch(feet, foot, own, kernel.work, WORK_STEP)) return true;
		return false;
	};

	return {
		ownLength: ownSize(count),
		idle(x) {
			const height = normal[0]! * x[0]! + normal[1]! * x[1]! + normal[2]! * x[2]!;
			const climb = normal[0]! * x[3]! + normal[1]! * x[4]! + normal[2]! * x[5]!;
			return height - held[0]! > 0.02 + 0.01 * (climb < 0 ? -climb : 0);
		},
		step(kernel, x, u, air, outside, own) {
			const { work } = kernel;
			const whole = work[WORK_STEP]!;
			const high = normal[0]! * x[0]! + normal[1]! * x[1]! + normal[2]! * x[2]! > held[0]!;
			own[OWN_SINCE] = high ? 1e9 : own[OWN_SINCE]! + whole;
			if (!near(kernel, x, own)) {
				stepHeld(kernel, x, u, air, outside);
				return;
			}
			const pieces = Math.ceil(whole * held[1]!);
			piece[PIECE.count] = pieces;
			piece[PIECE.seconds] = whole / pieces;
			for (let i = 0; i < pieces; i++) {
				place(feet, kernel, x);
				keepRates(feet, before);
				piece[PIECE.index] = i;
				takePiece(kernel, x, u, air, outside, own, piece);
				place(feet, kernel, x);
				settleContacts(feet, own, before);
			}
			if (anyTouches(feet, own)) own[OWN_SINCE] = 0;
			work[WORK_STEP] = whole;
		},
		rest: (x, own) => restPose(feet, feet.arms, now, spec, x, own),
		holdFoot(own, foot, holdN) {
			holdFoot(feet, count, own, foot, holdN);
		},
		reload,
		stored(kernel, x, own) {
			place(feet, kernel, x);
			return storedIn(feet, own);
		},
	};
}

/** @throws RangeError for no such foot of the first `feet` contacts */
export function holdFoot(
	{ ownAt }: Contacts,
	feet: number,
	own: Float64Array,
	foot: number,
	holdN: number,
): void {
	if (!(Number.isInteger(foot) && foot >= 0 && foot < feet))
		throw new RangeError(`stuckFoot: foot ${foot}, expected 0 to ${feet - 1}`);
	own[ownAt + OWN_FEET + FOOT_STRIDE * foot + FOOT_HELD] = holdN;
}
