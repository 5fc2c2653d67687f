import {
	type AxisLaw,
	axisLaw,
	lastRateSetPoint,
	noteDelivered,
	STATE_I,
	settleAxis,
	stepAxis,
} from "./axis-law.ts";
import type { Mixer } from "./mixer.ts";
import { AXES, type GainSet } from "./spec.ts";

/**
 * Offsets in a controller's input array. Groups of three are roll, pitch, yaw; yaw's angles are not read. Radians,
 * seconds, volts; flags are 0 or 1. `rateSpacing`: time between this tick's new gyro sample and the one before,
 * 0 when this tick has no new one.
 */
export const IN = {
	angleSetPoint: 0,
	rateSetPoint: 3,
	angle: 6,
	rate: 9,
	throttle: 12,
	voltage: 13,
	rateSpacing: 14,
	lifted: 15,
	live: 16,
	length: 17,
} as const;

/** Offsets in its output array; `commands` come last, one per rotor. `u` is clamped to the output limit. */
export const OUT = {
	u: 0,
	rateSetPoint: 3,
	delivered: 6,
	integral: 9,
	saturated: 12,
	commands: 13,
} as const;

/**
 * Three axis laws (`axis-law.ts`) and the mixer. The state is one flat array: axis i begins at `axisAt[i]` and holds
 * I, d, rate_prev, J, the filters' states (two numbers a second-order filter, one a first-order one), then the last
 * unclamped u, the mixer's shortfall flag and the last rate set-point, which small signals do not depend on.
 */
export interface Controller {
	readonly stateLength: number;
	readonly axisAt: readonly [number, number, number];
	/** Of each axis's stretch, how many numbers from its start a small signal sees. */
	readonly linearOrder: number;
	readonly outputLength: number;
	/** Motors not live: outputs 0 and the state reset. Allocates nothing. */
	tick(state: Float64Array, input: Float64Array, output: Float64Array): void;
	/** State as after a long time with these inputs and this u (roll, pitch, yaw). */
	settle(state: Float64Array, input: Float64Array, u: ArrayLike<number>): void;
}

export function createController(set: GainSet, periodSec: number, mixer: Mixer): Controller {
	const laws = AXES.map((axis) => axisLaw(set, axis, periodSec)) as [AxisLaw, AxisLaw, AxisLaw];
	const stride = laws[0].stride;
	const outputLength = OUT.commands + mixer.rotorCount;
	const settle = (state: Float64Array, input: Float64Array, u: ArrayLike<number>): void => {
		for (let i = 0; i < 3; i++)
			settleAxis(
				laws[i]!,
				state,
				i * stride,
				input[IN.angleSetPoint + i]!,
				input[IN.angle + i]!,
				input[IN.rateSetPoint + i]!,
				input[IN.rate + i]!,
				u[i]!,
			);
	};
	return {
		stateLength: 3 * stride,
		axisAt: [0, stride, 2 * stride],
		linearOrder: laws[0].linearOrder,
		outputLength,
		settle,
		tick(state, input, output) {
			if (input[IN.live] === 0) {
				output.fill(0, 0, outputLength);
				settle(state, input, SAFE);
				for (let i = 0; i < 3; i++) state[i * stride + STATE_I] = 0;
				return;
			}
			const lifted = input[IN.lifted] !== 0;
			for (let i = 0; i < 3; i++)
				output[OUT.u + i] = stepAxis(
					laws[i]!,
					state,
					i * stride,
					input[IN.angleSetPoint + i]!,
					input[IN.angle + i]!,
					input[IN.rateSetPoint + i]!,
					input[IN.rate + i]!,
					input[IN.rateSpacing]!,
					lifted,
				);
			const saturated = mixer.mix(
				input[IN.throttle]!,
				input[IN.voltage]!,
				output,
				OUT.u,
				OUT.delivered,
				OUT.commands,
			);
			output[OUT.saturated] = saturated ? 1 : 0;
			for (let i = 0; i < 3; i++) {
				const at = i * stride;
				noteDelivered(laws[i]!, state, at, output[OUT.u + i]!, output[OUT.delivered + i]!);
				output[OUT.rateSetPoint + i] = lastRateSetPoint(laws[i]!, state, at);
				output[OUT.integral + i] = state[at + STATE_I]!;
			}
		},
	};
}

const SAFE: readonly number[] = [0, 0, 0];
