import type { Craft } from "../craft/model.ts";
import { stateSize } from "../physics/kernel-layout.ts";
import { type Ring, ringSize } from "./ring.ts";
import { ASKED_LENGTH, FAULT_LENGTH, HAND_LENGTH } from "./state-lengths.ts";

/**
 * Everything that a flight holds, in one flat array: the kernel's state, readings as they last arrived (rates 3, angles 3),
 * set-points (angle 3, rate 3, throttle), the controller's state, published and applied commands, rings of values under way
 * (gyro: rates and angles; attitude: angles; publish: commands; one transport ring per motor), then bookkeeping.
 */
export interface Layout {
	readonly x: number;
	readonly rates: number;
	readonly angles: number;
	readonly angleSetPoint: number;
	readonly rateSetPoint: number;
	readonly throttle: number;
	/** 1 while motors are live; 1 once lifted off; since when throttle has been high enough, us, -1 while it is not. */
	readonly live: number;
	readonly lifted: number;
	readonly highSinceUs: number;
	readonly controller: number;
	readonly published: number;
	readonly applied: number;
	readonly gyroRing: Ring;
	readonly attitudeRing: Ring;
	readonly publishRing: Ring;
	readonly transportRings: readonly Ring[];
	/** Sensor faults (faults.ts); what sticks ask (asked.ts); the drill's own jitter and skip chance; power of servos, W. */
	readonly faults: number;
	readonly asked: number;
	readonly loose: number;
	readonly servoW: number;
	/** Who holds the throttle (hand.ts). */
	readonly hand: number;
	/** What touches or holds the craft keeps its numbers here. */
	readonly touch: number;
	/** Sample time of the newest gyro reading, and of the one the last tick used, us. */
	readonly gyroSampleUs: number;
	readonly usedSampleUs: number;
	readonly nowUs: number;
	readonly next: number;
	readonly counts: number;
	readonly size: number;
}

/** Event kinds in the order in which they are served at one instant; one APPLY per rotor, then RECORD. */
export const EVENT = {
	turbulence: 0,
	drill: 1,
	hand: 2,
	gyro: 3,
	attitude: 4,
	gyroArrival: 5,
	attitudeArrival: 6,
	receiver: 7,
	control: 8,
	publish: 9,
	latch: 10,
	apply: 11,
} as const;

/** Counters kept per clock: gyro samples, attitude samples, control ticks, frames, records. */
export const COUNT = { gyro: 0, attitude: 1, control: 2, latch: 3, record: 4, length: 5 } as const;

export function layoutFor(craft: Craft, controllerLength: number, touchLength: number): Layout {
	const n = craft.rotors.length;
	const { timing } = craft;
	let size = 0;
	const take = (length: number): number => {
		const at = size;
		size += length;
		return at;
	};
	const ring = (latencyUs: number, periodUs: number, width: number): Ring => {
		const capacity = 2 ** Math.ceil(Math.log2(Math.ceil(latencyUs / periodUs) + 3));
		return { at: take(ringSize(capacity, width)), capacity, width };
	};
	const transportUs = timing.pulse.kind === "width" ? timing.pulse.longestUs : timing.pulse.transportUs;
	const shortestTickUs = Math.max(1, timing.control.periodUs - 2 * timing.control.jitterUs);
	return {
		x: take(stateSize(n)),
		rates: take(3),
		angles: take(3),
		angleSetPoint: take(3),
		rateSetPoint: take(3),
		throttle: take(1),
		live: take(1),
		lifted: take(1),
		highSinceUs: take(1),
		controller: take(controllerLength),
		published: take(n),
		applied: take(n),
		gyroRing: ring(timing.gyroBusUs, timing.gyro.periodUs, 6),
		attitudeRing:
			timing.attitude.kind === "fused"
				? ring(timing.attitude.latencyUs, timing.attitude.clock.periodUs, 3)
				: ring(0, 1, 3),
		publishRing: ring(timing.computeUs, shortestTickUs, n),
		transportRings: craft.rotors.map(() => ring(transportUs, timing.escFrame.periodUs, 1)),
		faults: take(FAULT_LENGTH),
		asked: take(ASKED_LENGTH),
		loose: take(2),
		servoW: take(1),
		hand: take(HAND_LENGTH),
		touch: take(touchLength),
		gyroSampleUs: take(1),
		usedSampleUs: take(1),
		nowUs: take(1),
		next: take(EVENT.apply + n + 1),
		counts: take(COUNT.length),
		size,
	};
}
