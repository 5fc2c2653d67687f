import { type Block, respondBlock } from "./block.ts";
import { expLowPass, filterBlock, filteredDerivative, integrator } from "./blocks.ts";
import type { AxisGains, AxisName, FilterSpec, FixedGainSet, Structure } from "./spec.ts";

/**
 * The parts that an axis's gains weigh, at z = exp(j omega T): the gyro filters F, the integrator T/(1 - z^-1) and the
 * derivative (for a single angle PID: its low-pass alone). The derivative turns at the spacing of gyro samples.
 */
export interface ControlParts {
	/** out = [Re, Im of F, of the integrator, of F times the derivative]. Allocates nothing. */
	respond(omegaRadPerSec: number, out: Float64Array): void;
}

interface PartsSpec {
	readonly anglePid: boolean;
	readonly filters: readonly FilterSpec[];
	readonly derivativeCutoffHz: number;
	readonly periodSec: number;
	/** Spacing of new gyro samples as the loop sees them: the longer of gyro and control period. */
	readonly rateSpacingSec: number;
}

export function controlParts(spec: PartsSpec): ControlParts {
	const { periodSec, rateSpacingSec } = spec;
	const filters: readonly Block[] = spec.filters.map((f) => filterBlock(f, periodSec));
	const sum = integrator(periodSec);
	const slope = (spec.anglePid ? expLowPass : filteredDerivative)(spec.derivativeCutoffHz, rateSpacingSec);
	const work = new Float64Array(2);
	return {
		respond(omega, out) {
			let fr = 1;
			let fi = 0;
			for (const filter of filters) {
				respondBlock(filter, 0, omega * periodSec, work);
				const re = fr * work[0]! - fi * work[1]!;
				fi = fr * work[1]! + fi * work[0]!;
				fr = re;
			}
			out[0] = fr;
			out[1] = fi;
			respondBlock(sum, 0, omega * periodSec, out, 2);
			respondBlock(slope, 0, omega * rateSpacingSec, work);
			out[4] = fr * work[0]! - fi * work[1]!;
			out[5] = fr * work[1]! + fi * work[0]!;
		},
	};
}

/**
 * Where the answers of `combineParts` stand, each as Re, Im. From a reading to u they carry their minus sign:
 * u = rate * rateReading + angle * angleReading + angleSetPoint * ... + rateSetPoint * ...
 * `angleErrorToRate`: from angle_sp - angle to rate_sp (cascade; else 0).
 */
export const ANSWER = {
	rate: 0,
	angle: 2,
	angleSetPoint: 4,
	rateSetPoint: 6,
	angleErrorToRate: 8,
	length: 10,
} as const;

/**
 * The gains on the parts, per axis (model of `axis-law.ts`, no limit acting). Allocates nothing.
 *
 *     rate loop:  set-point C_sp = kp b + kff + ki I        rate: -(F (kp + ki I) + kd F D)
 *     cascade:    K = k_angle + k_angleI I                  angle_sp: K C_sp      angle: -K C_sp
 *     anglePid:   angle_sp: kp b + ki I    angle: -(kp + ki I)    rate: -kd F D
 *
 * @param parts from `ControlParts.respond`
 */
export function combineParts(
	gains: AxisGains,
	structure: Structure,
	axis: AxisName,
	parts: Float64Array,
	out: Float64Array,
): void {
	const ir = parts[2]!;
	const ii = parts[3]!;
	out.fill(0, 0, ANSWER.length);
	if (structure === "anglePid" && axis !== "yaw") {
		out[0] = -gains.kd * parts[4]!;
		out[1] = -gains.kd * parts[5]!;
		out[2] = -(gains.kp + gains.ki * ir);
		out[3] = -gains.ki * ii;
		out[4] = gains.kp * gains.setPointWeight + gains.ki * ir;
		out[5] = gains.ki * ii;
		return;
	}
	const pr = gains.kp + gains.ki * ir;
	const pi = gains.ki * ii;
	out[0] = -(parts[0]! * pr - parts[1]! * pi + gains.kd * parts[4]!);
	out[1] = -(parts[0]! * pi + parts[1]! * pr + gains.kd * parts[5]!);
	if (structure !== "cascade" || axis === "yaw") {
		out[6] = gains.kp * gains.setPointWeight + gains.kff + gains.ki * ir;
		out[7] = gains.ki * ii;
		return;
	}
	const sr = gains.kp * gains.setPointWeight + gains.kff + gains.ki * ir;
	const kr = gains.kAngle + gains.kAngleI * ir;
	const ki = gains.kAngleI * ii;
	out[4] = kr * sr - ki * pi;
	out[5] = kr * pi + ki * sr;
	out[2] = -out[4]!;
	out[3] = -out[5]!;
	out[8] = kr;
	out[9] = ki;
}

/** How many numbers `loopWeights` writes. */
export const LOOP_WEIGHTS = 6;

/**
 * What `combineParts` gives the two readings, as sums over products of parts that no gain changes:
 *
 *     -rate = w0 F + w1 F I + w2 F D        -angle = w3 + w4 I + w5 I^2
 */
export function loopWeights(
	gains: AxisGains,
	structure: Structure,
	axis: AxisName,
	out: Float64Array,
): Float64Array {
	const { kp, ki, kd, kff, kAngle, kAngleI, setPointWeight } = gains;
	const anglePid = structure === "anglePid" && axis !== "yaw";
	const cascade = structure === "cascade" && axis !== "yaw";
	const fromSetPoint = kp * setPointWeight + kff;
	out[0] = anglePid ? 0 : kp;
	out[1] = anglePid ? 0 : ki;
	out[2] = kd;
	out[3] = anglePid ? kp : cascade ? kAngle * fromSetPoint : 0;
	out[4] = anglePid ? ki : cascade ? kAngle * ki + kAngleI * fromSetPoint : 0;
	out[5] = cascade ? kAngleI * ki : 0;
	return out;
}

/** The frequency answers of one axis of a gain set: `respond` fills `ANSWER.length` numbers. */
export function axisResponse(
	set: FixedGainSet,
	axis: AxisName,
	periodSec: number,
	rateSpacingSec = periodSec,
): { respond(omegaRadPerSec: number, out: Float64Array): void } {
	const gains = set[axis];
	const parts = controlParts({
		anglePid: set.structure === "anglePid" && axis !== "yaw",
		filters: set.filters,
		derivativeCutoffHz: gains.derivativeCutoffHz,
		periodSec,
		rateSpacingSec,
	});
	const work = new Float64Array(6);
	return {
		respond(omega, out) {
			parts.respond(omega, work);
			combineParts(gains, set.structure, axis, work, out);
		},
	};
}
