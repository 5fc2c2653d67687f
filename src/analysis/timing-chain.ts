import type { Clock, Pulse, Timing } from "../craft/model.ts";
import {
	type AgePattern,
	holdPattern,
	lcm,
	sensorPattern,
	worstFramePhase,
	worstSensorPhase,
} from "./age-pattern.ts";
import { repeating } from "./repeating-clocks.ts";

/** A clock whose phase is known. */
interface FixedClock {
	readonly periodUs: number;
	readonly phaseUs: number;
}

/**
 * The clocks between tilt and thrust as the linear analysis reads them: free phases at their worst (largest mean age), clocks
 * rationalised where they would not repeat within a second, jitter and skipped ticks left out.
 */
export interface TimingChain {
	readonly tickUs: number;
	readonly computeUs: number;
	readonly gyro: FixedClock;
	readonly gyroBusUs: number;
	readonly attitude: FixedClock;
	readonly attitudeLatencyUs: number;
	readonly frame: FixedClock;
	/** All of these clocks repeat together after this. */
	readonly hyperperiodUs: number;
	/** What was changed to make them repeat within a second; empty: nothing. */
	readonly rationalised: string;
	readonly gyroAge: AgePattern;
	readonly attitudeAge: AgePattern;
	readonly holdAge: AgePattern;
}

const cache = new WeakMap<Timing, TimingChain>();

export function timingChain(timing: Timing): TimingChain {
	const known = cache.get(timing);
	if (known) return known;
	const made = build(timing);
	cache.set(timing, made);
	return made;
}

function build(timing: Timing): TimingChain {
	const fused = timing.attitude.kind === "fused" ? timing.attitude : null;
	const asked = [
		timing.control.periodUs,
		timing.gyro.periodUs,
		timing.escFrame.periodUs,
		...(fused ? [fused.clock.periodUs] : []),
	];
	const { periods, text } = repeating(asked);
	const [tickUs, gyroUs, frameUs, fusedUs] = periods as [number, number, number, number | undefined];
	const computeUs = timing.computeUs;
	const sensor = (clock: Clock, periodUs: number, latencyUs: number): FixedClock => ({
		periodUs,
		phaseUs: clock.phaseUs === "free" ? worstSensorPhase(periodUs, latencyUs, tickUs) : clock.phaseUs,
	});
	const gyro = sensor(timing.gyro, gyroUs, timing.gyroBusUs);
	const attitude = fused ? sensor(fused.clock, fusedUs!, fused.latencyUs) : gyro;
	const attitudeLatencyUs = fused ? fused.latencyUs : timing.gyroBusUs;
	const { phaseUs } = timing.escFrame;
	const frame = {
		periodUs: frameUs,
		phaseUs: phaseUs === "free" ? worstFramePhase(frameUs, computeUs, tickUs) : phaseUs,
	};
	const ages = (clock: FixedClock, latencyUs: number): AgePattern =>
		sensorPattern(clock.periodUs, clock.phaseUs, latencyUs, tickUs);
	return {
		tickUs,
		computeUs,
		gyro,
		gyroBusUs: timing.gyroBusUs,
		attitude,
		attitudeLatencyUs,
		frame,
		hyperperiodUs: periods.reduce(lcm),
		rationalised: text,
		gyroAge: ages(gyro, timing.gyroBusUs),
		attitudeAge: ages(attitude, attitudeLatencyUs),
		holdAge: holdPattern(frame.periodUs, frame.phaseUs, computeUs, tickUs),
	};
}

/** From the speed controller's latch to the new command acting: the pulse itself, or the digital frame. */
export function transportUs(pulse: Pulse, command: number): number {
	if (pulse.kind === "digital") return pulse.transportUs;
	const clipped = Math.min(1, Math.max(0, command));
	return Math.round(pulse.shortestUs + clipped * (pulse.longestUs - pulse.shortestUs));
}
