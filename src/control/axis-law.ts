import { type Block, blockOrder, settleBlock } from "./block.ts";
import { filterBlock } from "./blocks.ts";
import { sectionsOf, stepSections } from "./sections.ts";
import { IN } from "./signals.ts";
import type { AxisName, FixedGainSet, Structure } from "./spec.ts";

/**
 * The control law of one axis at one tick of period T, in the order I, D, u.
 *
 *     cascade       rate_sp = clamp(k_angle (angle_sp - angle) + J, +-rate_limit)       J += k_angleI (angle_sp - angle) T
 *     yaw, rateOnly rate_sp = clamp(rate_sp given, +-rate_limit)
 *     anglePid      roll and pitch: set-point and measurement below are the angle's; D reads the gyro itself
 *
 *     e = sp - x         P = kp (b sp - x)
 *     I += ki e T        |I| <= I_max
 *     d = a d + (1 - a) (-(rate - rate_prev)/dt)      anglePid: d = a d + (1 - a) (-rate);     a = exp(-2 pi f_d dt)
 *     u = clamp(P + I + kd d + kff rate_sp + lead, +-u_max)      lead: known beforehand, 0 where nothing is
 *
 * `rate` is the gyro reading after the gain set's filters; dt is the spacing of new gyro samples, and d is held on
 * ticks that bring none. I stands still while e has the sign of the last tick's unclamped u and that u was beyond
 * u_max or the mixer delivered less of it. J (bounded by its own limit) stands still while e has the sign of a
 * rate_sp beyond its limit. Both are held at 0 until lift-off: by the gain set's rule, which
 * the caller watches and says `lifted`.
 */
export interface AxisLaw {
	/**
	 * 0 period T, 1 k_angle, 2 k_angleI, 3 kp, 4 ki, 5 kd, 6 kff, 7 b, 8 I_max, 9 u_max, 10 rate_limit, 11 limit of J, 12 f_d,
	 * 13 mode (0 rate loop, 1 cascade, 2 anglePid), 14 and 15 the last dt and its a: a cache, on whose content no answer depends.
	 */
	readonly numbers: Float64Array;
	readonly filters: readonly Block[];
	/** The same filters as the tick steps them. */
	readonly sections: Float64Array;
	/** States that a small signal sees: I, d, rate_prev, J, then the filters'. */
	readonly linearOrder: number;
	/** All numbers of one axis: the linear ones, then last unclamped u, mixer shortfall (0 or 1). */
	readonly stride: number;
}

/** Where I and the filters' states stand in one axis's stretch of the state; d is at 1, rate_prev at 2, J at 3. */
export const STATE_I = 0;
const STATE_FILTERS = 4;
const MEMORY = 2;

/** @param unbounded true leaves every limit out, for linear analysis. */
export function axisLaw(set: FixedGainSet, axis: AxisName, periodSec: number, unbounded = false): AxisLaw {
	const gains = set[axis];
	const filters = set.filters.map((spec) => filterBlock(spec, periodSec));
	const linearOrder = STATE_FILTERS + filters.reduce((sum, block) => sum + blockOrder(block), 0);
	const limit = (x: number): number => (unbounded ? Number.POSITIVE_INFINITY : x);
	const numbers = Float64Array.of(
		periodSec,
		gains.kAngle,
		gains.kAngleI,
		gains.kp,
		gains.ki,
		gains.kd,
		gains.kff,
		gains.setPointWeight,
		limit(gains.integralLimit),
		limit(gains.outputLimit),
		limit(gains.rateLimitRadPerSec),
		limit(gains.angleIntegralLimitRadPerSec),
		gains.derivativeCutoffHz,
		modeOf(set.structure, axis),
		0,
		1,
	);
	return { numbers, filters, sections: sectionsOf(filters), linearOrder, stride: linearOrder + MEMORY };
}

function modeOf(structure: Structure, axis: AxisName): number {
	if (structure === "rateOnly" || axis === "yaw") return 0;
	return structure === "cascade" ? 1 : 2;
}

/**
 * One tick: reads this axis's entries of `input` (see `IN`), writes u, the rate set-point and the integral to `output`
 * (see `OUT`). Numbers travel in arrays because the engine would box them as arguments: nothing is allocated. Offsets are
 * written out because it does not fold a module's constants into a function this long: names cost a third of the tick.
 * @param at where this axis's stretch of the state begins
 * @param axis 0 roll, 1 pitch, 2 yaw
 */
export function stepAxis(
	law: AxisLaw,
	state: Float64Array,
	at: number,
	input: Float64Array,
	output: Float64Array,
	axis: number,
): void {
	const k = law.numbers;
	const memory = at + law.linearOrder;
	const periodSec = k[0]!;
	const mode = k[13]!;
	const spacingSec = input[14]!;
	const lifted = input[15] !== 0;
	let rate = input[9 + axis]!;
	if (law.linearOrder > 4) {
		const { sections } = law;
		sections[0] = rate;
		stepSections(sections, state, at + 4);
		rate = sections[0]!;
	}

	let rateSp = 0;
	let sp = 0;
	let x = rate;
	if (mode === 0) sp = rateSp = clamp(input[3 + axis]!, k[10]!);
	else if (mode === 1) {
		const error = input[axis]! - input[6 + axis]!;
		const limit = k[10]!;
		const asked = k[1]! * error;
		let j = state[at + 3]!;
		const wanted = asked + j;
		if (!lifted) j = 0;
		else if (!((wanted >= limit || wanted <= -limit) && error * wanted > 0))
			j = clamp(j + k[2]! * error * periodSec, k[11]!);
		state[at + 3] = j;
		sp = rateSp = clamp(asked + j, limit);
	} else {
		sp = input[axis]!;
		x = input[6 + axis]!;
	}

	const e = sp - x;
	const uLimit = k[9]!;
	const before = state[memory]!;
	const short = before >= uLimit || before <= -uLimit || state[memory + 1] !== 0;
	let integral = state[at]!;
	if (!lifted) integral = 0;
	else if (!(short && e * before > 0)) integral = clamp(integral + k[4]! * e * periodSec, k[8]!);
	state[at] = integral;

	let d = state[at + 1]!;
	if (spacingSec > 0) {
		if (k[14] !== spacingSec) {
			k[14] = spacingSec;
			k[15] = Math.exp(-2 * Math.PI * k[12]! * spacingSec);
		}
		const a = k[15]!;
		const slope = mode === 2 ? -rate : -(rate - state[at + 2]!) / spacingSec;
		d = a * d + (1 - a) * slope;
		state[at + 1] = d;
		state[at + 2] = rate;
	}

	const p = k[3]! * (k[7]! * sp - x);
	// rateSp is 0 under a single angle PID: nothing to feed forward.
	const u = p + integral + k[5]! * d + k[6]! * rateSp + input[17 + axis]!;
	state[memory] = u;
	output[axis] = clamp(u, uLimit);
	output[3 + axis] = rateSp;
	output[9 + axis] = integral;
}

/** Tells the law what the mixer made of u, for the integral's freeze. */
export function noteDelivered(
	law: AxisLaw,
	state: Float64Array,
	at: number,
	output: Float64Array,
	axis: number,
): void {
	const u = output[axis]!;
	const delivered = output[6 + axis]!;
	const missing = (u < 0 ? -u : u) - (delivered < 0 ? -delivered : delivered);
	state[at + law.linearOrder + 1] = missing > 1e-9 ? 1 : 0;
}

/**
 * State as after a long time at rest with these readings, set-points and this output. The integral carries what P
 * does not (within its limit); with ki = 0 it stays 0, since such a loop could not have built it up.
 */
export function settleAxis(
	law: AxisLaw,
	state: Float64Array,
	at: number,
	input: Float64Array,
	axis: number,
	u: number,
): void {
	const angleSetPoint = input[IN.angleSetPoint + axis]!;
	const angle = input[IN.angle + axis]!;
	state.fill(0, at, at + law.stride);
	const k = law.numbers;
	const mode = k[13]!;
	let rate = input[IN.rate + axis]!;
	let place = at + STATE_FILTERS;
	for (const block of law.filters) {
		rate = settleBlock(block, rate, state, place);
		place += blockOrder(block);
	}
	const rateSp = clamp(mode === 1 ? k[1]! * (angleSetPoint - angle) : input[IN.rateSetPoint + axis]!, k[10]!);
	const p =
		mode === 2 ? k[3]! * (k[7]! * angleSetPoint - angle) : k[3]! * (k[7]! * rateSp - rate) + k[6]! * rateSp;
	state[at + 2] = rate;
	state[at + 1] = mode === 2 ? -rate : 0;
	const rest = u - p - k[5]! * state[at + 1]! - input[IN.lead + axis]!;
	state[at + STATE_I] = k[4] === 0 ? 0 : clamp(rest, k[8]!);
	state[at + law.linearOrder] = u;
}

function clamp(x: number, limit: number): number {
	if (x > limit) return limit;
	if (x < -limit) return -limit;
	return x;
}
