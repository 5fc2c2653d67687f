import { type Block, blockOrder, settleBlock, stepBlock } from "./block.ts";
import { filterBlock } from "./blocks.ts";
import { IN, OUT } from "./signals.ts";
import type { AxisName, GainSet } from "./spec.ts";

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
 *     u = clamp(P + I + kd d + kff rate_sp, +-u_max)
 *
 * `rate` is the gyro reading after the gain set's filters; dt is the spacing of new gyro samples, and d is held on
 * ticks that bring none. I stands still while e has the sign of the last tick's unclamped u and that u was beyond
 * u_max or the mixer delivered less of it. J (bounded by its own limit) stands still while e has the sign of a
 * rate_sp beyond its limit. Both are held at 0 until lift-off: throttle at 80 % of the expected hover throttle or
 * more for 0.2 s since motors were made live is the rule meant here; the caller decides and says `lifted`.
 */
export interface AxisLaw {
	readonly anglePid: boolean;
	readonly usesAngle: boolean;
	readonly periodSec: number;
	readonly kAngle: number;
	readonly kAngleI: number;
	readonly kp: number;
	readonly ki: number;
	readonly kd: number;
	readonly kff: number;
	readonly setPointWeight: number;
	readonly integralLimit: number;
	readonly outputLimit: number;
	readonly rateLimit: number;
	readonly angleIntegralLimit: number;
	readonly derivativeCutoffHz: number;
	readonly filters: readonly Block[];
	readonly filterOrders: readonly number[];
	/** States that a small signal sees: I, d, rate_prev, J, then the filters'. */
	readonly linearOrder: number;
	/** All numbers of one axis: the linear ones, then last unclamped u, mixer shortfall (0 or 1). */
	readonly stride: number;
	/** Scratch and cache: the law's answer never depends on what stands here before. */
	readonly work: Float64Array;
}

/** Offsets inside one axis's stretch of the state. */
export const STATE_I = 0;
const STATE_D = 1;
const STATE_RATE_BEFORE = 2;
const STATE_J = 3;
const STATE_FILTERS = 4;
const MEMORY = 2;

/** @param unbounded true leaves every limit out, for linear analysis. */
export function axisLaw(set: GainSet, axis: AxisName, periodSec: number, unbounded = false): AxisLaw {
	const gains = set[axis];
	const filters = set.filters.map((spec) => filterBlock(spec, periodSec));
	const filterOrders = filters.map(blockOrder);
	const linearOrder = STATE_FILTERS + filterOrders.reduce((a, b) => a + b, 0);
	const limit = (x: number): number => (unbounded ? Number.POSITIVE_INFINITY : x);
	return {
		anglePid: set.structure === "anglePid" && axis !== "yaw",
		usesAngle: set.structure === "cascade" && axis !== "yaw",
		periodSec,
		kAngle: gains.kAngle,
		kAngleI: gains.kAngleI,
		kp: gains.kp,
		ki: gains.ki,
		kd: gains.kd,
		kff: gains.kff,
		setPointWeight: gains.setPointWeight,
		integralLimit: limit(gains.integralLimit),
		outputLimit: limit(gains.outputLimit),
		rateLimit: limit(gains.rateLimitRadPerSec),
		angleIntegralLimit: limit(gains.angleIntegralLimitRadPerSec),
		derivativeCutoffHz: gains.derivativeCutoffHz,
		filters,
		filterOrders,
		linearOrder,
		stride: linearOrder + MEMORY,
		work: new Float64Array(3),
	};
}

/**
 * One tick: reads this axis's entries of `input` (see `IN`), writes u, the rate set-point and the integral to `output`
 * (see `OUT`). Numbers travel in arrays because the engine would box them as arguments: nothing is allocated.
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
	const angleSetPoint = input[IN.angleSetPoint + axis]!;
	const angle = input[IN.angle + axis]!;
	const spacingSec = input[IN.rateSpacing]!;
	const lifted = input[IN.lifted] !== 0;
	const memory = at + law.linearOrder;
	const rate = filtered(law, state, at, input[IN.rate + axis]!);
	const rateSp = law.usesAngle
		? angleLoop(law, state, at, angleSetPoint - angle, lifted)
		: clamp(input[IN.rateSetPoint + axis]!, law.rateLimit);
	const sp = law.anglePid ? angleSetPoint : rateSp;
	const x = law.anglePid ? angle : rate;

	const e = sp - x;
	const before = state[memory]!;
	const short = Math.abs(before) >= law.outputLimit || state[memory + 1] !== 0;
	if (!lifted) state[at + STATE_I] = 0;
	else if (!(short && e * before > 0))
		state[at + STATE_I] = clamp(state[at + STATE_I]! + law.ki * e * law.periodSec, law.integralLimit);

	if (spacingSec > 0) {
		const a = decay(law, spacingSec);
		const slope = law.anglePid ? -rate : -(rate - state[at + STATE_RATE_BEFORE]!) / spacingSec;
		state[at + STATE_D] = a * state[at + STATE_D]! + (1 - a) * slope;
		state[at + STATE_RATE_BEFORE] = rate;
	}

	const p = law.kp * (law.setPointWeight * sp - x);
	const feed = law.anglePid ? 0 : law.kff * rateSp;
	const u = p + state[at + STATE_I]! + law.kd * state[at + STATE_D]! + feed;
	state[memory] = u;
	output[OUT.u + axis] = clamp(u, law.outputLimit);
	output[OUT.rateSetPoint + axis] = law.anglePid ? 0 : rateSp;
	output[OUT.integral + axis] = state[at + STATE_I]!;
}

/** Tells the law what the mixer made of u, for the integral's freeze. */
export function noteDelivered(
	law: AxisLaw,
	state: Float64Array,
	at: number,
	output: Float64Array,
	axis: number,
): void {
	const missing = Math.abs(output[OUT.u + axis]!) - Math.abs(output[OUT.delivered + axis]!);
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
	let rate = input[IN.rate + axis]!;
	let place = at + STATE_FILTERS;
	for (let i = 0; i < law.filters.length; i++) {
		rate = settleBlock(law.filters[i]!, rate, state, place);
		place += law.filterOrders[i]!;
	}
	const rateSp = clamp(
		law.usesAngle ? law.kAngle * (angleSetPoint - angle) : input[IN.rateSetPoint + axis]!,
		law.rateLimit,
	);
	const p = law.anglePid
		? law.kp * (law.setPointWeight * angleSetPoint - angle)
		: law.kp * (law.setPointWeight * rateSp - rate) + law.kff * rateSp;
	state[at + STATE_RATE_BEFORE] = rate;
	state[at + STATE_D] = law.anglePid ? -rate : 0;
	const rest = u - p - law.kd * state[at + STATE_D]!;
	state[at + STATE_I] = law.ki === 0 ? 0 : clamp(rest, law.integralLimit);
	state[at + law.linearOrder] = u;
}

function filtered(law: AxisLaw, state: Float64Array, at: number, reading: number): number {
	let rate = reading;
	let place = at + STATE_FILTERS;
	for (let i = 0; i < law.filters.length; i++) {
		law.work[0] = rate;
		rate = stepBlock(law.filters[i]!, law.work, state, place, law.filterOrders[i]!);
		place += law.filterOrders[i]!;
	}
	return rate;
}

function angleLoop(law: AxisLaw, state: Float64Array, at: number, error: number, lifted: boolean): number {
	const held = state[at + STATE_J]!;
	const wanted = law.kAngle * error + held;
	if (!lifted) state[at + STATE_J] = 0;
	else if (!(Math.abs(wanted) >= law.rateLimit && error * wanted > 0))
		state[at + STATE_J] = clamp(held + law.kAngleI * error * law.periodSec, law.angleIntegralLimit);
	return clamp(law.kAngle * error + state[at + STATE_J]!, law.rateLimit);
}

function decay(law: AxisLaw, spacingSec: number): number {
	if (law.work[1] !== spacingSec) {
		law.work[1] = spacingSec;
		law.work[2] = Math.exp(-2 * Math.PI * law.derivativeCutoffHz * spacingSec);
	}
	return law.work[2]!;
}

function clamp(x: number, limit: number): number {
	return Math.max(-limit, Math.min(limit, x));
}
