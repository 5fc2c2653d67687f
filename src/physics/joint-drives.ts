/**
 * What turns a joint. 'servo': second order with a rate limit, g'' = 2 zeta wn (clamp(wn/(2 zeta) (target - g), +-rate) - g'), as long as the torque
 * that takes stays within its limit; beyond it the limit itself acts. 'soft': the same servo turns a shaft, and a spring with backlash and damping stands
 * between shaft and joint; a shaft at the torque limit goes on no faster than its joint. 'hanging': nothing but damping, as a load on a tether or liquid that sloshes.
 */
export type JointDrive = ServoDrive | SoftDrive | HangingDrive;

interface ServoNumbers {
	readonly naturalRadPerSec: number;
	readonly dampingRatio: number;
	readonly rateLimitRadPerSec: number;
	readonly torqueLimitNm: number;
	/** Hunting about the target while it holds: amplitude as seen at the joint (a soft one: at its shaft) and frequency. */
	readonly jitterRad: number;
	readonly jitterHz: number;
}

export interface ServoDrive extends ServoNumbers {
	readonly kind: "servo";
}

export interface SoftDrive extends ServoNumbers {
	readonly kind: "soft";
	readonly stiffnessNmPerRad: number;
	readonly dampingNmSecPerRad: number;
	/** Whole play between shaft and joint. */
	readonly backlashRad: number;
}

interface HangingDrive {
	readonly kind: "hanging";
	readonly dampingNmSecPerRad: number;
}

/** Numbers of a joint's own in a flight's state, blocks of n: angle, speed, shaft angle, shaft speed, target, fastest speed asked for (0: the servo's own), then one clock, s. */
export const JOINT = { angle: 0, speed: 1, shaft: 2, shaftSpeed: 3, target: 4, pace: 5, blocks: 6 } as const;
export const jointStateSize = (n: number): number => JOINT.blocks * n + 1;

const SERVO = 0;
const SOFT = 1;
const HANGING = 2;
const STRIDE = 10;

export interface JointDrives {
	readonly count: number;
	/** Whether the servo of joint `i` has a target to follow. */
	follows(i: number): boolean;
	/** Whether joint `i` is free (its torque is known) before any limit. */
	readonly yields: Uint8Array;
	readonly torqueLimit: Float64Array;
	/** Acceleration that each servo's law asks of its joint ('servo') or shaft ('soft'), rad/s^2, into `out`. */
	ask(own: Float64Array, out: Float64Array): void;
	/** Torque on each yielding joint, N m, into `out`. */
	yieldTorque(own: Float64Array, out: Float64Array): void;
	/** Every joint stands where it should: 'servo' on target; nothing yields. */
	still(own: Float64Array): boolean;
}

const STILL_RAD = 1e-10;

export function createJointDrives(drives: readonly JointDrive[]): JointDrives {
	const n = drives.length;
	const given = new Float64Array(STRIDE * n);
	const yields = new Uint8Array(n);
	const torqueLimit = new Float64Array(n).fill(Number.POSITIVE_INFINITY);
	drives.forEach((drive, i) => {
		const at = STRIDE * i;
		if (drive.kind === "hanging") {
			given.set([HANGING, 0, 0, 0, 0, 0, 0, drive.dampingNmSecPerRad, 0], at);
			yields[i] = 1;
			return;
		}
		const wn = drive.naturalRadPerSec;
		if (!(wn > 0 && drive.dampingRatio > 0))
			throw new RangeError(
				`joint drive ${i}: naturalRadPerSec ${wn}, dampingRatio ${drive.dampingRatio}, expected above 0`,
			);
		given.set(
			[
				SERVO,
				wn / (2 * drive.dampingRatio),
				2 * drive.dampingRatio * wn,
				drive.rateLimitRadPerSec,
				drive.jitterRad / gainAt(drive, 2 * Math.PI * drive.jitterHz),
				2 * Math.PI * drive.jitterHz,
			],
			at,
		);
		torqueLimit[i] = drive.torqueLimitNm;
		if (drive.kind === "servo") return;
		given[at] = SOFT;
		given.set([drive.stiffnessNmPerRad, drive.dampingNmSecPerRad, drive.backlashRad / 2], at + 6);
		yields[i] = 1;
	});
	const clock = JOINT.blocks * n;
	const twist = new Float64Array(n);

	/** Torque of the spring between shaft and joint of each soft joint, with no limit, into `twist`. What has play can push, not pull. */
	const findTwist = (own: Float64Array): void => {
		for (let i = 0; i < n; i++) {
			const at = STRIDE * i;
			if (given[at]! !== SOFT) continue;
			const gap = own[2 * n + i]! - own[i]!;
			const play = given[at + 8]!;
			const over = gap > play ? gap - play : gap < -play ? gap + play : 0;
			const torque = given[at + 6]! * over + given[at + 7]! * (own[3 * n + i]! - own[n + i]!);
			twist[i] = play === 0 || torque * over > 0 ? torque : 0;
		}
	};

	return {
		count: n,
		yields,
		torqueLimit,
		follows: (i) => given[STRIDE * i] !== HANGING,
		ask(own, out) {
			findTwist(own);
			for (let i = 0; i < n; i++) {
				const at = STRIDE * i;
				const kind = given[at]!;
				out[i] = 0;
				if (kind === HANGING) continue;
				const soft = kind === SOFT ? 2 * n : 0;
				let target = own[JOINT.target * n + i]!;
				if (given[at + 4]! > 0) target += given[at + 4]! * Math.sin(given[at + 5]! * own[clock]!);
				const pace = own[JOINT.pace * n + i]!;
				const limit = pace > 0 && pace < given[at + 3]! ? pace : given[at + 3]!;
				let speed = given[at + 1]! * (target - own[soft + i]!);
				if (speed > limit) speed = limit;
				else if (speed < -limit) speed = -limit;
				if (kind === SOFT) {
					const joint = own[n + i]!;
					if (twist[i]! >= torqueLimit[i]! && speed > joint) speed = joint;
					else if (twist[i]! <= -torqueLimit[i]! && speed < joint) speed = joint;
				}
				out[i] = given[at + 2]! * (speed - own[soft + n + i]!);
			}
		},
		yieldTorque(own, out) {
			findTwist(own);
			for (let i = 0; i < n; i++) {
				const at = STRIDE * i;
				const kind = given[at]!;
				if (kind === HANGING) out[i] = -given[at + 7]! * own[n + i]!;
				if (kind !== SOFT) continue;
				const limit = torqueLimit[i]!;
				out[i] = Math.max(-limit, Math.min(limit, twist[i]!));
			}
		},
		still(own) {
			for (let i = 0; i < n; i++) {
				const at = STRIDE * i;
				if (given[at]! !== SERVO || given[at + 4]! > 0) return false;
				const gap = own[JOINT.target * n + i]! - own[i]!;
				const speed = own[n + i]!;
				if (gap > STILL_RAD || gap < -STILL_RAD || speed > STILL_RAD || speed < -STILL_RAD) return false;
			}
			return true;
		},
	};
}

/** How much of a sine of the target arrives at the joint: |wn^2/(wn^2 - w^2 + 2 i zeta wn w)|. */
function gainAt({ naturalRadPerSec: wn, dampingRatio }: ServoNumbers, w: number): number {
	return wn ** 2 / Math.hypot(wn ** 2 - w ** 2, 2 * dampingRatio * wn * w);
}
