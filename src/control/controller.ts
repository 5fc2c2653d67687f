import { type AxisLaw, axisLaw, noteDelivered, STATE_I, settleAxis, stepAxis } from "./axis-law.ts";
import type { Mixer } from "./mixer.ts";
import { createFactors } from "./schedule.ts";
import { IN, OUT } from "./signals.ts";
import { AXES, type GainSchedule, type GainSet } from "./spec.ts";

/**
 * Three axis laws (`axis-law.ts`) and the mixer. The state is one flat array: axis i begins at `axisAt[i]` and holds
 * I, d, rate_prev, J, the filters' states (two numbers a second-order filter, one a first-order one), then the last
 * unclamped u and the mixer's shortfall flag, which small signals do not depend on.
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
	const fixed = { ...set, schedule: undefined };
	const laws = AXES.map((axis) => axisLaw(fixed, axis, periodSec)) as [AxisLaw, AxisLaw, AxisLaw];
	const follow = set.schedule ? following(set.schedule, laws) : null;
	const [roll, pitch, yaw] = laws;
	const stride = roll.stride;
	const outputLength = OUT.commands + mixer.rotorCount;
	const settle = (state: Float64Array, input: Float64Array, u: ArrayLike<number>): void => {
		follow?.(input);
		for (let i = 0; i < 3; i++) settleAxis(laws[i]!, state, i * stride, input, i, u[i]!);
	};
	return {
		stateLength: 3 * stride,
		axisAt: [0, stride, 2 * stride],
		linearOrder: roll.linearOrder,
		outputLength,
		settle,
		tick(state, input, output) {
			if (input[IN.live] === 0) {
				output.fill(0, 0, outputLength);
				settle(state, input, SAFE);
				for (let i = 0; i < 3; i++) state[i * stride + STATE_I] = 0;
				return;
			}
			follow?.(input);
			stepAxis(roll, state, 0, input, output, 0);
			stepAxis(pitch, state, stride, input, output, 1);
			stepAxis(yaw, state, 2 * stride, input, output, 2);
			const saturated = mixer.mix(input, IN.throttle, output, OUT.u, OUT.delivered, OUT.commands);
			output[OUT.saturated] = saturated ? 1 : 0;
			noteDelivered(roll, state, 0, output, 0);
			noteDelivered(pitch, state, stride, output, 1);
			noteDelivered(yaw, state, 2 * stride, output, 2);
		},
	};
}

/** Writes the gains of the input's pose and load into the laws. The integrals hold output, not error: no gain's change jumps them. */
function following(schedule: GainSchedule, laws: readonly AxisLaw[]): (input: Float64Array) => void {
	const factors = createFactors(schedule);
	const own = laws.map(({ numbers }) => numbers.slice());
	return (input) => {
		if (!factors.read(input)) return;
		for (let axis = 0; axis < 3; axis++) {
			const to = laws[axis]!.numbers;
			const from = own[axis]!;
			const at = 4 * axis;
			to[1] = from[1]! * factors.out[at]!;
			to[3] = from[3]! * factors.out[at + 1]!;
			to[4] = from[4]! * factors.out[at + 2]!;
			to[5] = from[5]! * factors.out[at + 3]!;
		}
	};
}

const SAFE: readonly number[] = [0, 0, 0];
