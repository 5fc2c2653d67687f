import type { Timing } from "../craft/model.ts";
import type { Random } from "../math/random.ts";

/** When each clock ticks first, whole microseconds. */
export interface ClockPhases {
	readonly gyroUs: number;
	readonly attitudeUs: number;
	readonly latchUs: number;
	readonly receiverUs: number;
}

/** A free phase is drawn, or 0 without noise. */
export function clockPhases(timing: Timing, noise: boolean, random: Random): ClockPhases {
	const phase = (free: number | "free", periodUs: number): number =>
		free === "free" ? (noise ? Math.floor(random.uniform() * periodUs) : 0) : free % periodUs;
	const { gyro, attitude, escFrame, receiver } = timing;
	const gyroUs = phase(gyro.phaseUs, gyro.periodUs);
	const attitudeUs = attitude.kind === "fused" ? phase(attitude.clock.phaseUs, attitude.clock.periodUs) : 0;
	const latchUs = phase(escFrame.phaseUs, escFrame.periodUs);
	return { gyroUs, attitudeUs, latchUs, receiverUs: phase(receiver.phaseUs, receiver.periodUs) };
}
