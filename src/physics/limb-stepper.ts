import { anyTouches, keepRates, OWN_SINCE, settleContacts } from "./contact-law.ts";
import { createJointDrives, JOINT, type JointDrive, jointStateSize } from "./joint-drives.ts";
import { createJointMotion } from "./joint-motion.ts";
import { createJointProfiles, type JointProfiles } from "./joint-profiles.ts";
import { createTreePoser, type JointTree, type Posture } from "./joint-tree.ts";
import { derivative, stepHeld, weighLowPass } from "./kernel.ts";
import {
	bodyRates,
	GYRO,
	HEAD_SIZE,
	type Kernel,
	MOMENTUM,
	OUTSIDE_SIZE,
	ROTOR_STRIDE,
	ROTORS,
	stateSize,
	VELOCITY,
	WORK_STEP,
	WORK_WEIGHTS,
} from "./kernel-layout.ts";
import type { LimbForces } from "./limb-forces.ts";
import type { LimbGround } from "./limb-ground.ts";
import { breathe, closePiece, createStage, gatherSlopes, openPiece, PIECE } from "./loaded-step.ts";
import type { Plant } from "./plant.ts";
import type { Stepper } from "./stepper.ts";
import { writeTurn } from "./turn.ts";

export interface LimbStepper extends Stepper {
	/** Angles and speeds into `own`, targets where the joints stand; and the kernel made to agree. */
	begin(kernel: Kernel, own: Float64Array, anglesRad: readonly number[]): void;
	/** From here on the servo of joint `i` goes to `angleRad`, no faster than `paceRadPerSec` (0: than itself). */
	aim(own: Float64Array, i: number, angleRad: number, paceRadPerSec?: number): void;
	/** d/dt of x and own at an instant; the kernel is left agreeing with `own`. */
	slopesAt(
		kernel: Kernel,
		x: Float64Array,
		own: Float64Array,
		u: Float64Array,
		air: Float64Array,
		outside: Float64Array,
		dx: Float64Array,
		dOwn: Float64Array,
	): void;
	/** From here on joint `i` moves through measured points of [time from now, angle], whatever torque that takes, then holds the last. */
	follow(own: Float64Array, i: number, points: readonly (readonly [number, number])[]): void;
	/** Makes the kernel agree with `own` after `own` was written from outside. */
	refresh(kernel: Kernel, own: Float64Array): void;
	/** Torques that the joints' servos gave in the last stage, N m. */
	readonly torques: Float64Array;
	readonly posture: Posture;
	readonly tree: JointTree;
	/** What a corner's factor adds to the inertia, row by row. */
	readonly extraInertia: Float64Array;
}

export interface LimbSpec {
	readonly plant: Plant;
	readonly tree: JointTree;
	/** One per body of the tree. */
	readonly drives: readonly JointDrive[];
	/** Factor on the whole's inertia at the pose where the flight begins (a corner). */
	readonly inertiaFactor: number;
	readonly startRad: readonly number[];
	readonly forces: LimbForces | null;
	/** Of the joints that follow one at the start; default none. */
	readonly profiles?: JointProfiles;
	/** What may touch it, its numbers in `own` behind the joints'; left out: no ground. */
	readonly ground?: LimbGround;
}

/** Of a step times the fastest frequency among the joints. */
const FINE = 0.08;

/**
 * Classical Runge-Kutta over the kernel's derivative and the joints together (docs/model.md section 3): at each stage the tree's pose gives the kernel its centre of mass
 * and inertia, v less the centre's own motion inside the body, and H less the joints' momentum; the joints take their accelerations from Kane's equations. While every
 * servo stands on its target the craft is one rigid body, and the kernel's own step serves.
 */
export function createLimbStepper(spec: LimbSpec): LimbStepper {
	const { plant, tree, forces, ground = null } = spec;
	const n = tree.bodies.length;
	const rotors = plant.rotors.length;
	if (spec.drives.length !== n)
		throw new RangeError(`limb: ${spec.drives.length} drives, expected one per joint, ${n}`);
	const poser = createTreePoser(tree);
	const { posture } = poser;
	const motion = createJointMotion(poser);
	const drives = createJointDrives(spec.drives);
	const profiles = spec.profiles ?? createJointProfiles(n);
	const own1 = jointStateSize(n);
	const size = stateSize(rotors);
	const now = createStage(size, own1);
	const { x: stage, beside: ownStage, dx: slope, dBeside: ownSlope, air: airNow } = now;
	const seen = new Float64Array(size);
	const load = new Float64Array(OUTSIDE_SIZE);
	const rates = new Float64Array(3);
	const rates0 = new Float64Array(3);
	/** The low-pass of w' over a piece. */
	const filtered = new Float64Array(3);
	const spin = new Float64Array(3);
	const push = new Float64Array(3);
	const along = new Float64Array(n);
	const turn = new Float64Array(9);
	const piece = new Float64Array(PIECE.length);
	const places = new Float64Array(3 * rotors + 3);
	plant.rotors.forEach((rotor, i) => {
		places.set(rotor.positionM, 3 * i);
	});
	places.set(plant.centreOfPressureM, 3 * rotors);
	const gravity = plant.gravityMPerSec2;
	let still = false;
	/** Whether anything may touch the ground in this step. */
	let near = false;
	const before = new Float64Array(ground?.contacts.count ?? 0);

	/** The kernel's numbers that depend on the pose. */
	const posed = (kernel: Kernel, own: Float64Array): void => {
		poser.pose(own);
		const { p } = kernel;
		const { inverse, centre, momentum } = posture;
		p[0] = 1 / posture.massKg;
		p[2] = inverse[0]!;
		p[3] = inverse[4]!;
		p[4] = inverse[8]!;
		p[5] = inverse[1]!;
		p[6] = inverse[2]!;
		p[7] = inverse[5]!;
		for (let k = 0; k < 3; k++) {
			p[8 + k] = places[3 * rotors + k]! - centre[k]!;
			kernel.inner[k] = momentum[k]!;
		}
		for (let i = 0; i < rotors; i++)
			for (let k = 0; k < 3; k++) p[HEAD_SIZE + ROTOR_STRIDE * i + k] = places[3 * i + k]! - centre[k]!;
	};

	const setExtra = (anglesRad: readonly number[]): void => {
		poser.extraInertia.fill(0);
		if (spec.inertiaFactor === 1) return;
		const joints = new Float64Array(2 * n);
		joints.set(anglesRad);
		poser.pose(joints);
		for (let k = 0; k < 9; k++) poser.extraInertia[k] = (spec.inertiaFactor - 1) * posture.inertia[k]!;
	};
	setExtra(spec.startRad);

	/** `whole`: where the ground keeps its numbers. Slopes of `stage` and `ownStage` into `slope` and `ownSlope`. */
	const slopes = (kernel: Kernel, u: Float64Array, outside: Float64Array, whole: Float64Array): void => {
		profiles.prescribe(ownStage, n, led);
		posed(kernel, ownStage);
		const { momentum, centreSpeed, inertia } = posture;
		const { p } = kernel;
		bodyRates(kernel, stage, rates);
		writeTurn(stage, turn);
		for (let i = 0; i < 6; i++) load[i] = outside[i]!;
		along.fill(0);
		if (forces) forces.add(posture, stage, rates, turn, airNow, p, load, along);
		if (ground && near) {
			ground.placeNear(posture, stage, rates, turn);
			ground.add(posture, whole, turn, load, along);
		}
		const wx = rates[0]!;
		const wy = rates[1]!;
		const wz = rates[2]!;
		load[0]! -= wy * momentum[2]! - wz * momentum[1]!;
		load[1]! -= wz * momentum[0]! - wx * momentum[2]!;
		load[2]! -= wx * momentum[1]! - wy * momentum[0]!;
		for (let i = 0; i < size; i++) seen[i] = stage[i]!;
		for (let k = 0; k < 3; k++) {
			seen[MOMENTUM + k]! -= momentum[k]!;
			seen[VELOCITY + k]! -=
				turn[3 * k]! * centreSpeed[0]! +
				turn[3 * k + 1]! * centreSpeed[1]! +
				turn[3 * k + 2]! * centreSpeed[2]!;
		}
		derivative(kernel, seen, u, airNow, load, slope);
		for (let k = 0; k < 3; k++) slope[k] = stage[VELOCITY + k]!;
		// What turns it: spin = H'' + w x (J w + h) - h_rotors'.
		const lx = inertia[0]! * wx + inertia[1]! * wy + inertia[2]! * wz + momentum[0]!;
		const ly = inertia[3]! * wx + inertia[4]! * wy + inertia[5]! * wz + momentum[1]!;
		const lz = inertia[6]! * wx + inertia[7]! * wy + inertia[8]! * wz + momentum[2]!;
		spin[0] = slope[MOMENTUM]! + wy * lz - wz * ly;
		spin[1] = slope[MOMENTUM + 1]! + wz * lx - wx * lz;
		spin[2] = slope[MOMENTUM + 2]! + wx * ly - wy * lx;
		for (let i = 0; i < rotors; i++)
			for (let k = 0; k < 3; k++) spin[k]! -= p[HEAD_SIZE + ROTOR_STRIDE * i + 12 + k]! * slope[ROTORS + i]!;
		const mass = posture.massKg;
		const fx = mass * slope[VELOCITY]! - outside[3]!;
		const fy = mass * slope[VELOCITY + 1]! - outside[4]!;
		const fz = mass * (slope[VELOCITY + 2]! - gravity) - outside[5]!;
		for (let k = 0; k < 3; k++) push[k] = turn[k]! * fx + turn[3 + k]! * fy + turn[6 + k]! * fz;
		accelerate();
	};

	const accelerate = (): void => {
		const { acceleration, torque, free } = motion;
		drives.ask(ownStage, asked);
		drives.yieldTorque(ownStage, torque);
		for (let i = 0; i < n; i++) {
			const leads = profiles.leads(i);
			free[i] = leads ? 0 : drives.yields[i]!;
			acceleration[i] = leads ? led[i]! : asked[i]!;
		}
		// A servo that cannot give what its law asks gives its limit; one more each time.
		for (let pass = 0; pass <= n; pass++) {
			motion.solve(rates, spin, push, along);
			let worst = 1;
			let at = -1;
			for (let i = 0; i < n; i++) {
				if (free[i] === 1 || profiles.leads(i)) continue;
				const share = Math.abs(torque[i]!) / drives.torqueLimit[i]!;
				if (share > worst) {
					worst = share;
					at = i;
				}
			}
			if (at < 0) break;
			free[at] = 1;
			torque[at] = torque[at]! > 0 ? drives.torqueLimit[at]! : -drives.torqueLimit[at]!;
		}
		for (let i = 0; i < n; i++) {
			ownSlope[i] = ownStage[n + i]!;
			ownSlope[n + i] = acceleration[i]!;
			ownSlope[JOINT.shaft * n + i] = ownStage[JOINT.shaftSpeed * n + i]!;
			ownSlope[JOINT.shaftSpeed * n + i] = asked[i]!;
		}
		ownSlope[JOINT.blocks * n] = 1;
	};
	const asked = new Float64Array(n);
	const led = new Float64Array(n);

	const takePiece = (
		kernel: Kernel,
		x: Float64Array,
		u: Float64Array,
		air: Float64Array,
		outside: Float64Array,
		own: Float64Array,
	): void => {
		const h = piece[PIECE.seconds]!;
		const { work } = kernel;
		work[WORK_STEP] = h;
		weighLowPass(kernel);
		filtered.fill(0);
		ownSlope.fill(0);
		openPiece(now, x, own, air);
		for (let s = 0; s < 4; s++) {
			breathe(air, airNow, piece, s);
			slopes(kernel, u, outside, own);
			for (let k = 0; k < 3; k++) {
				if (s === 0) rates0[k] = rates[k]!;
				filtered[k]! += work[WORK_WEIGHTS + s]! * motion.turning[k]!;
			}
			gatherSlopes(now, x, own, piece, s);
		}
		closePiece(now, x, own);
		profiles.prescribe(own, n, led);
		posed(kernel, own);
		bodyRates(kernel, x, rates);
		const decay = work[WORK_WEIGHTS + 4]!;
		const hold = work[WORK_WEIGHTS + 5]!;
		for (let k = 0; k < 3; k++)
			x[GYRO + k] = kernel.p[17]! > 0 ? decay * x[GYRO + k]! + hold * rates0[k]! + filtered[k]! : rates[k]!;
	};

	/** After a piece: what came down, slid or left. */
	const land = (x: Float64Array, own: Float64Array): void => {
		writeTurn(x, turn);
		ground!.placeNear(posture, x, rates, turn);
		settleContacts(ground!.contacts, own, before);
		if (anyTouches(ground!.contacts, own)) own[ground!.contacts.ownAt + OWN_SINCE] = 0;
	};

	/** Fastest frequency, rad/s, of servos and springs at this pose. */
	const fastest = new Float64Array(1);
	const findFastest = (own: Float64Array): void => {
		poser.pose(own);
		let most = 1;
		spec.drives.forEach((drive, i) => {
			if (drive.kind !== "hanging")
				most = Math.max(most, drive.naturalRadPerSec, 2 * Math.PI * drive.jitterHz);
			if (drive.kind !== "soft") return;
			const { inverse, reach, between } = posture;
			let lost = 0;
			for (let a = 0; a < 3; a++)
				for (let b = 0; b < 3; b++) lost += reach[3 * i + a]! * inverse[3 * a + b]! * reach[3 * i + b]!;
			const inertia = between[i * n + i]! - lost;
			most = Math.max(
				most,
				Math.sqrt(drive.stiffnessNmPerRad / inertia),
				drive.dampingNmSecPerRad / inertia / 3,
			);
		});
		fastest[0] = most / FINE;
	};

	const rest = (kernel: Kernel, own: Float64Array): void => {
		for (let i = 0; i < n; i++) {
			own[i] = own[JOINT.target * n + i]!;
			own[n + i] = 0;
		}
		posed(kernel, own);
		still = true;
	};

	const standing = (own: Float64Array): boolean =>
		forces === null && ground === null && !profiles.any && drives.still(own);

	const refresh = (kernel: Kernel, own: Float64Array): void => {
		findFastest(own);
		posed(kernel, own);
		still = standing(own);
	};

	return {
		ownLength: own1,
		posture,
		tree,
		extraInertia: poser.extraInertia,
		torques: motion.torque,
		idle: () => still,
		begin(kernel, own, anglesRad) {
			own.fill(0, 0, own1);
			for (let i = 0; i < n; i++) {
				own[i] = anglesRad[i]!;
				own[JOINT.shaft * n + i] = anglesRad[i]!;
				own[JOINT.target * n + i] = anglesRad[i]!;
			}
			refresh(kernel, own);
		},
		aim(own, i, angleRad, paceRadPerSec = 0) {
			if (!(i >= 0 && i < n && drives.follows(i)))
				throw new RangeError(`limb: joint ${i} has no servo, expected one of 0 to ${n - 1} that has`);
			profiles.leave(i);
			own[JOINT.target * n + i] = angleRad;
			own[JOINT.pace * n + i] = paceRadPerSec;
			still = false;
		},
		slopesAt(kernel, x, own, u, air, outside, dx, dOwn) {
			stage.set(x);
			ownStage.set(own.subarray(0, own1));
			airNow.set(air);
			near = false;
			slopes(kernel, u, outside, own);
			dx.set(slope);
			dOwn.set(ownSlope);
		},
		follow(own, i, points) {
			if (!(i >= 0 && i < n && drives.follows(i)))
				throw new RangeError(`limb: joint ${i} has no servo, expected one of 0 to ${n - 1} that has`);
			profiles.follow(own, n, i, points);
			still = false;
		},
		refresh,
		reload() {
			throw new RangeError("limb: a changed load makes another stepper");
		},
		step(kernel, x, u, air, outside, own) {
			const { work } = kernel;
			const whole = work[WORK_STEP]!;
			if (still) {
				stepHeld(kernel, x, u, air, outside);
				own[JOINT.blocks * n]! += whole;
				return;
			}
			let pieces = Math.ceil(whole * fastest[0]!);
			if (ground) {
				near = !ground.aloft(x);
				if (near) {
					bodyRates(kernel, x, rates);
					writeTurn(x, turn);
					ground.place(posture, x, rates, turn);
					ground.hurry(posture, own, work);
					near = ground.haste[0]! > 0;
				}
				if (near) pieces = Math.max(pieces, Math.ceil(whole * ground.haste[0]!));
				own[ground.contacts.ownAt + OWN_SINCE]! += whole;
			}
			piece[PIECE.count] = pieces;
			piece[PIECE.seconds] = whole / pieces;
			for (let i = 0; i < pieces; i++) {
				piece[PIECE.index] = i;
				if (near) keepRates(ground!.contacts, before);
				takePiece(kernel, x, u, air, outside, own);
				if (near) land(x, own);
			}
			work[WORK_STEP] = whole;
			profiles.finish(own, n);
			if (standing(own)) rest(kernel, own);
		},
	};
}
