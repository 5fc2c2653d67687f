import { axisLaw, stepAxis } from "./axis-law.ts";
import { IN, OUT } from "./signals.ts";
import type { AxisName, FixedGainSet } from "./spec.ts";

/**
 * The control law of one axis for small signals, at one tick: s+ = A s + B v, u = C s + D v with
 * v = [angleSetPoint, angle, rateSetPoint, rate] as read at this tick and s as `Controller` lays out an axis's first
 * `order` numbers. Row by row: a order x order, b order x 4, c order, d 4.
 */
export interface LinearTick {
	readonly order: number;
	readonly a: Float64Array;
	readonly b: Float64Array;
	readonly c: Float64Array;
	readonly d: Float64Array;
}

/**
 * Read off the control law itself: it is linear where no limit acts, so that its answers to unit states and unit
 * inputs ARE the columns.
 * @param rateSpacingSec spacing of this tick's new gyro sample from the last; 0 for a tick without a new one
 */
export function linearTick(
	set: FixedGainSet,
	axis: AxisName,
	periodSec: number,
	rateSpacingSec: number,
): LinearTick {
	const law = axisLaw(set, axis, periodSec, true);
	const n = law.linearOrder;
	const [a, b, c, d] = [n * n, n * 4, n, 4].map((size) => new Float64Array(size)) as [
		Float64Array,
		Float64Array,
		Float64Array,
		Float64Array,
	];
	const state = new Float64Array(law.stride);
	const input = new Float64Array(IN.length);
	const output = new Float64Array(OUT.commands);
	const inputs = [IN.angleSetPoint, IN.angle, IN.rateSetPoint, IN.rate];
	const step = (): number => {
		input[IN.rateSpacing] = rateSpacingSec;
		input[IN.lifted] = 1;
		stepAxis(law, state, 0, input, output, 0);
		return output[OUT.u]!;
	};
	for (let j = 0; j < n; j++) {
		state.fill(0);
		state[j] = 1;
		c[j] = step();
		for (let i = 0; i < n; i++) a[i * n + j] = state[i]!;
	}
	for (let j = 0; j < 4; j++) {
		state.fill(0);
		input.fill(0);
		input[inputs[j]!] = 1;
		d[j] = step();
		for (let i = 0; i < n; i++) b[i * 4 + j] = state[i]!;
	}
	return { order: n, a, b, c, d };
}
