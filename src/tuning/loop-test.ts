import type { Limits } from "./characters.ts";
import { type CornerTable, STRIDE } from "./corner-table.ts";
import type { ConstraintName } from "./result.ts";

/** k_angle, kp, ki, kd. */
export type Gains4 = readonly [number, number, number, number];

const OPENINGS = 3;
export const RATE = 0;
export const ANGLE = 1;
export const WHOLE = 2;

/** Margins of the three openings and the rest, as one flat record that is written over and over. */
export interface LoopTest {
	stable: boolean;
	/** By opening. Gain margins as amplitude ratios (up > 1, down < 1), Infinity and 0 where there is none. */
	readonly ms: Float64Array;
	readonly mt: Float64Array;
	readonly phaseMarginRad: Float64Array;
	readonly gainUp: Float64Array;
	readonly gainDown: Float64Array;
	readonly delaySec: Float64Array;
	readonly crossover: Float64Array;
	noiseRms: number;
	/** arg(1 + W) at the lowest frequency, followed down from pi/T. */
	lowAngle: number;
	/** Set by an early end: which limit was broken first. */
	broken: ConstraintName | "";
}

export function createLoopTest(): LoopTest {
	const three = (): Float64Array => new Float64Array(OPENINGS);
	return {
		stable: true,
		ms: three(),
		mt: three(),
		phaseMarginRad: three(),
		gainUp: three(),
		gainDown: three(),
		delaySec: three(),
		crossover: three(),
		noiseRms: 0,
		lowAngle: 0,
		broken: "",
	};
}

/** Limits in the units of the test, made once. */
export interface TestLimits {
	readonly leastReturnSquared: number;
	readonly mtSquared: number;
	readonly ms: number;
	readonly mt: number;
	readonly phaseMarginRad: number;
	readonly gainUp: number;
	readonly gainDown: number;
	readonly noiseRms: number;
	readonly noiseVariance: number;
	readonly perIntegral: number;
	readonly perAngle: number;
}

export function testLimits(limits: Limits): TestLimits {
	return {
		leastReturnSquared: 1 / limits.ms ** 2,
		mtSquared: limits.mt ** 2,
		ms: limits.ms,
		mt: limits.mt,
		phaseMarginRad: (limits.phaseMarginDeg * Math.PI) / 180,
		gainUp: 10 ** (limits.gainMarginUpDb / 20),
		gainDown: 10 ** (-limits.gainMarginDownDb / 20),
		noiseRms: limits.noiseRms,
		noiseVariance: limits.noiseRms ** 2,
		perIntegral: limits.crossoverPerIntegral,
		perAngle: limits.crossoverPerAngle,
	};
}

const NAMES: readonly (readonly ConstraintName[])[] = [
	[
		"rateLoopMs",
		"rateLoopPhaseMargin",
		"rateLoopGainMarginUp",
		"rateLoopGainMarginDown",
		"rateLoopDelayMargin",
	],
	[
		"angleLoopMs",
		"angleLoopPhaseMargin",
		"angleLoopGainMarginUp",
		"angleLoopGainMarginDown",
		"angleLoopDelayMargin",
	],
	[
		"wholeAxisMs",
		"wholeAxisPhaseMargin",
		"wholeAxisGainMarginUp",
		"wholeAxisGainMarginDown",
		"wholeAxisDelayMargin",
	],
];

// Loop values of the last two frequencies: [re, im, |L|^2] by opening. One thread, no reentry.
const now = new Float64Array(3 * OPENINGS);
const before = new Float64Array(3 * OPENINGS);

/**
 * All limits of one corner, from the highest frequency down.
 *
 *     rate loop L_r = C P_r, drift left out    whole axis W = C P_r + X, X = k_angle (kp + ki I) P_a    angle loop A = X/(1 + C P_r)
 *     1 + A = (1 + W)/(1 + C P_r)       A/(1 + A) = X/(1 + W)
 *
 * Stability: the Nyquist angle. 1 + W = (closed polynomial)/(open polynomial), so that between two sets of gains on the same
 * open poles arg(1 + W), followed from pi/T down to a frequency where W is large, differs by a whole turn per pair of closed
 * poles that has crossed the unit circle. `table.stableAngle` is that angle for gains known to be stable. Allocates nothing.
 * @param limits given: ends at the first broken limit and returns false, peaks are not kept; null: everything is measured
 * @returns whether no limit was broken (with null: whether stable)
 */
export function testLoop(
	table: CornerTable,
	gains: Gains4,
	limits: TestLimits | null,
	out: LoopTest,
): boolean {
	const [kAngle, kp, ki, kd] = gains;
	const { omega, points, hasAngle } = table;
	const openings = hasAngle && kAngle > 0 ? OPENINGS : 1;
	reset(out);
	const top = omega.length - 1;
	let variance = 0;
	let turns = 0;
	let rateTurns = 0;
	let rateIm = 0;
	let rateRe = 1;
	let lastReturnRe = 1;
	let lastReturnIm = 0;
	let returnRe = 1;
	let returnIm = 0;
	for (let i = top; i >= 0; i--) {
		const at = i * STRIDE;
		const lr = kp * points[at]! + ki * points[at + 2]! + kd * points[at + 4]!;
		const li = kp * points[at + 1]! + ki * points[at + 3]! + kd * points[at + 5]!;
		const rr = kp * points[at + 16]! + ki * points[at + 18]! + kd * points[at + 20]!;
		const ri = kp * points[at + 17]! + ki * points[at + 19]! + kd * points[at + 21]!;
		let xr = 0;
		let xi = 0;
		if (openings > 1) {
			xr = kAngle * (kp * points[at + 6]! + ki * points[at + 8]!);
			xi = kAngle * (kp * points[at + 7]! + ki * points[at + 9]!);
		}
		const wr = lr + xr;
		const wi = li + xi;
		const rateReturn = (1 + rr) * (1 + rr) + ri * ri;
		const innerReturn = (1 + lr) * (1 + lr) + li * li;
		returnRe = 1 + wr;
		returnIm = wi;
		const wholeReturn = returnRe * returnRe + wi * wi;
		const cr = kp * points[at + 10]! + ki * points[at + 12]! + kd * points[at + 14]!;
		const ci = kp * points[at + 11]! + ki * points[at + 13]! + kd * points[at + 15]!;
		variance += (points[at + 22]! * (cr * cr + ci * ci)) / wholeReturn;
		// Crossings of the negative real axis by 1 + W.
		if (i < top) turns += passesBehind(returnRe, returnIm, lastReturnRe, lastReturnIm);
		lastReturnRe = returnRe;
		lastReturnIm = returnIm;
		if (i < top) rateTurns += passesBehind(1 + rr, ri, rateRe, rateIm);
		rateIm = ri;
		rateRe = 1 + rr;
		now[0] = rr;
		now[1] = ri;
		now[2] = rr * rr + ri * ri;
		if (limits === null) peak(out, RATE, 1 / rateReturn, now[2]! / rateReturn);
		if (openings > 1) {
			const perInner = 1 / innerReturn;
			now[3] = (xr * (1 + lr) + xi * li) * perInner;
			now[4] = (xi * (1 + lr) - xr * li) * perInner;
			now[5] = (xr * xr + xi * xi) * perInner;
			now[6] = wr;
			now[7] = wi;
			now[8] = wr * wr + wi * wi;
			if (limits === null) {
				peak(out, ANGLE, innerReturn / wholeReturn, (xr * xr + xi * xi) / wholeReturn);
				peak(out, WHOLE, 1 / wholeReturn, now[8]! / wholeReturn);
			}
		}
		if (limits !== null) {
			if (rateReturn < limits.leastReturnSquared) return broke(out, "rateLoopMs");
			if (openings > 1) {
				if (wholeReturn < limits.leastReturnSquared) return broke(out, "wholeAxisMs");
				if (wholeReturn < limits.leastReturnSquared * innerReturn) return broke(out, "angleLoopMs");
				if (xr * xr + xi * xi > limits.mtSquared * wholeReturn) return broke(out, "angleLoopMt");
			}
			if (variance > limits.noiseVariance) return broke(out, "noise");
		}
		for (let o = 0; o < openings; o++) {
			if (i === top) {
				// L(-1) is real: a phase crossing by itself.
				if (now[3 * o]! < 0 && Math.abs(now[3 * o + 1]!) < 1e-6 * Math.abs(now[3 * o]!))
					phaseCrossing(out, o, -now[3 * o]!);
			} else if (
				now[3 * o + 2]! > 1 !== before[3 * o + 2]! > 1 ||
				now[3 * o + 1]! > 0 !== before[3 * o + 1]! > 0
			)
				crossings(out, o, omega[i]!, omega[i + 1]!);
			else continue;
			if (limits !== null) {
				if (out.gainUp[o]! < limits.gainUp) return broke(out, NAMES[o]![2]!);
				if (out.gainDown[o]! > limits.gainDown) return broke(out, NAMES[o]![3]!);
				if (out.phaseMarginRad[o]! < limits.phaseMarginRad) return broke(out, NAMES[o]![1]!);
				if (out.delaySec[o]! < (o === RATE ? table.leastRateDelaySec : table.leastAngleDelaySec))
					return broke(out, NAMES[o]![4]!);
			}
			if (limits !== null && o === RATE && out.crossover[0]! > 0) {
				if (ki * limits.perIntegral > kp * Math.min(out.crossover[0]!, table.ratioCeilingRadPerSec))
					return broke(out, "integralRatio");
				if (kAngle * limits.perAngle > out.crossover[0]!) return broke(out, "angleRatio");
			}
		}
		for (let k = 0; k < 3 * openings; k++) before[k] = now[k]!;
	}
	out.lowAngle = Math.atan2(returnIm, returnRe) - 2 * Math.PI * turns;
	// The rate loop by itself has two poles at 1, its integral and (nearly) the body.
	const rateAngle = Math.atan2(rateIm, rateRe) - 2 * Math.PI * rateTurns;
	out.stable =
		Math.abs(out.lowAngle - table.stableAngle) < Math.PI &&
		Math.abs(rateAngle + Math.PI) < Math.PI &&
		Number.isFinite(variance);
	for (let o = 0; o < openings; o++) {
		out.ms[o] = Math.sqrt(out.ms[o]!);
		out.mt[o] = Math.sqrt(out.mt[o]!);
	}
	out.noiseRms = Math.sqrt(variance);
	if (!out.stable) return broke(out, "stable");
	if (limits !== null) {
		if (ki * limits.perIntegral > kp * Math.min(out.crossover[0]!, table.ratioCeilingRadPerSec))
			return broke(out, "integralRatio");
		if (openings > 1 && kAngle * limits.perAngle > out.crossover[0]!) return broke(out, "angleRatio");
	}
	return true;
}

/** Whether the way from (re1, im1) to (re0, im0) crosses the negative real axis: 1 upward, -1 downward, 0 not. */
function passesBehind(re0: number, im0: number, re1: number, im1: number): number {
	const up = im1 < 0 && im0 >= 0;
	if (!up && !(im1 >= 0 && im0 < 0)) return 0;
	if ((re1 * im0 - re0 * im1) * (im0 - im1) >= 0) return 0;
	return up ? 1 : -1;
}

function reset(out: LoopTest): void {
	out.stable = false;
	out.broken = "";
	out.noiseRms = 0;
	out.ms.fill(0);
	out.mt.fill(0);
	out.phaseMarginRad.fill(Infinity);
	out.gainUp.fill(Infinity);
	out.gainDown.fill(0);
	out.delaySec.fill(Infinity);
	out.crossover.fill(0);
}

function broke(out: LoopTest, name: ConstraintName): false {
	out.broken = name;
	return false;
}

function peak(out: LoopTest, o: number, sensitivity: number, complementary: number): void {
	if (sensitivity > out.ms[o]!) out.ms[o] = sensitivity;
	if (complementary > out.mt[o]!) out.mt[o] = complementary;
}

function phaseCrossing(out: LoopTest, o: number, size: number): void {
	const gain = 1 / size;
	if (gain >= 1) {
		if (gain < out.gainUp[o]!) out.gainUp[o] = gain;
	} else if (gain > out.gainDown[o]!) out.gainDown[o] = gain;
}

/** Crossings between the frequencies of `now` and `before` (the higher one); log |L| and arg L run straight in log omega. */
function crossings(out: LoopTest, o: number, low: number, high: number): void {
	const k = 3 * o;
	const i0 = now[k + 1]!;
	const i1 = before[k + 1]!;
	const s0 = now[k + 2]!;
	const s1 = before[k + 2]!;
	const gain = s0 > 1 !== s1 > 1;
	const phase = i0 > 0 !== i1 > 0;
	if (!gain && !phase) return;
	const r0 = now[k]!;
	const r1 = before[k]!;
	if (!gain && r0 >= 0 && r1 >= 0) return;
	// Distance from the critical direction, (-pi, pi]; the turn between neighbours is the short way round.
	const a0 = Math.atan2(-i0, -r0);
	const turn = Math.atan2(i1 * r0 - r1 * i0, r1 * r0 + i1 * i0);
	const slope = Math.log(s1 / s0);
	if (gain) {
		const t = -Math.log(s0) / slope;
		const angle = wrap(a0 + t * turn);
		const at = low * (high / low) ** t;
		out.phaseMarginRad[o] = Math.min(out.phaseMarginRad[o]!, Math.abs(angle));
		// Added delay turns L clockwise: the next -1 lies below.
		const delay = (angle > 0 ? angle : angle + 2 * Math.PI) / at;
		if (delay < out.delaySec[o]!) out.delaySec[o] = delay;
		if (at > out.crossover[o]!) out.crossover[o] = at;
	}
	if (phase && a0 * (a0 + turn) <= 0 && turn !== 0) {
		const t = -a0 / turn;
		phaseCrossing(out, o, Math.exp((Math.log(s0) + t * slope) / 2));
	}
}

function wrap(angle: number): number {
	if (angle > Math.PI) return angle - 2 * Math.PI;
	return angle <= -Math.PI ? angle + 2 * Math.PI : angle;
}
