import { sampleAge } from "./age-pattern.ts";
import type { TimingChain } from "./timing-chain.ts";

/** What happens at an instant, in this order (docs/model.md section 6). */
export const STEP = {
	sampleRate: 0,
	sampleAngle: 1,
	rateArrives: 2,
	angleArrives: 3,
	tick: 4,
	publish: 5,
	latch: 6,
	apply: 7,
} as const;

type StepKind = (typeof STEP)[keyof typeof STEP];

export interface TimelineStep {
	readonly atUs: number;
	readonly kind: StepKind;
	/** Axis for samples of angle and for apply, which a delay margin shifts one by one; else -1: all. */
	readonly axis: number;
	/** For a tick: spacing of its new gyro sample from the last tick's, 0 without a new one. */
	readonly spacingUs: number;
}

/** Per axis of the timeline, microseconds. */
export interface TimelineDelays {
	/** From the speed controller's latch to the rotors: transport and any added delay. */
	readonly applyUs: readonly number[];
	/** How much earlier than its clock the angle is sampled. */
	readonly angleEarlierUs: readonly number[];
}

/** All that happens in one hyperperiod from 0 on, in order, as if it had gone on for ever. */
export function timeline(chain: TimingChain, delays: TimelineDelays): TimelineStep[] {
	const { hyperperiodUs: span, tickUs, gyro, attitude, frame } = chain;
	const steps: TimelineStep[] = [];
	const every = (periodUs: number, firstUs: number, kind: StepKind, axis = -1): void => {
		const start = wrap(firstUs, periodUs);
		const count = Math.round(span / periodUs);
		for (let k = 0; k < count; k++) steps.push({ atUs: start + k * periodUs, kind, axis, spacingUs: 0 });
	};
	every(gyro.periodUs, gyro.phaseUs, STEP.sampleRate);
	every(gyro.periodUs, gyro.phaseUs + chain.gyroBusUs, STEP.rateArrives);
	delays.angleEarlierUs.forEach((earlier, axis) => {
		every(attitude.periodUs, attitude.phaseUs - earlier, STEP.sampleAngle, axis);
	});
	every(attitude.periodUs, attitude.phaseUs + chain.attitudeLatencyUs, STEP.angleArrives);
	const newest = (t: number): number => t - sampleAge(t, gyro.periodUs, gyro.phaseUs, chain.gyroBusUs);
	for (let t = 0; t < span; t += tickUs)
		steps.push({ atUs: t, kind: STEP.tick, axis: -1, spacingUs: newest(t) - newest(t - tickUs) });
	every(tickUs, chain.computeUs, STEP.publish);
	every(frame.periodUs, frame.phaseUs, STEP.latch);
	delays.applyUs.forEach((delay, axis) => {
		every(frame.periodUs, frame.phaseUs + delay, STEP.apply, axis);
	});
	return steps.sort((a, b) => (Math.abs(a.atUs - b.atUs) < 1e-6 ? a.kind - b.kind : a.atUs - b.atUs));
}

/** How many of what starts every periodUs at firstUs and lasts lastsUs are under way just before 0. */
export function underWay(periodUs: number, firstUs: number, lastsUs: number): number {
	// Starts s = first + k period with s < 0 <= s + lasts.
	const before = (t: number): number => Math.ceil((t - firstUs) / periodUs - 1e-9);
	return before(0) - before(-lastsUs);
}

function wrap(x: number, period: number): number {
	const r = ((x % period) + period) % period;
	return period - r < 1e-6 ? 0 : r;
}
