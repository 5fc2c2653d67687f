import type { AxisPlant } from "../analysis/axis-plant.ts";
import type { ControlParts } from "../control/axis-response.ts";
import { solve } from "../math/matrix.ts";
import { plantGrid } from "./plant-grid.ts";

/** Numbers per frequency in `CornerTable.points`. */
export const STRIDE = 23;

/**
 * One axis in one corner, its answers laid out for the search. Per frequency (rising to pi/T), each as Re, Im:
 * F P_r, F I P_r, F D P_r (what kp, ki, kd weigh in the gyro path), P_a, I P_a (what k_angle kp and k_angle ki weigh),
 * F, F I, F D (what they weigh from the gyro to u), the gyro path again with drift left out (by which the rate loop alone
 * is judged); last the gyro noise's weight in the variance of u.
 */
export interface CornerTable {
	readonly name: string;
	readonly plant: AxisPlant;
	readonly omega: Float64Array;
	readonly points: Float64Array;
	/** Least delay margin that the character allows: rate loop; angle loop and whole axis. */
	readonly leastRateDelaySec: number;
	readonly leastAngleDelaySec: number;
	/** Crossover counts no higher than this for ki/kp. */
	readonly ratioCeilingRadPerSec: number;
	/** u that holds an outside torque of 1 N m at rest. */
	readonly holdPerNm: number;
	readonly hasAngle: boolean;
	/** arg(1 + W) at the lowest frequency when stable; set by `calibrate`. */
	stableAngle: number;
}

export interface TableSpec {
	readonly name: string;
	readonly plant: AxisPlant;
	readonly parts: ControlParts;
	readonly noise: (omegaRadPerSec: number) => number;
	readonly lowestRadPerSec: number;
	readonly pointsPerDecade: number;
	readonly leastRateDelaySec: number;
	readonly leastAngleDelaySec: number;
	readonly ratioCeilingRadPerSec: number;
}

export function cornerTable(spec: TableSpec): CornerTable {
	const { plant } = spec;
	const omega = plantGrid(plant, spec.lowestRadPerSec, spec.pointsPerDecade);
	const points = new Float64Array(omega.length * STRIDE);
	const p = new Float64Array(6);
	const c = new Float64Array(6);
	const hasAngle = plant.axis !== "yaw";
	const times = (at: number, ar: number, ai: number, br: number, bi: number): void => {
		points[at] = ar * br - ai * bi;
		points[at + 1] = ar * bi + ai * br;
	};
	for (let i = 0; i < omega.length; i++) {
		const at = i * STRIDE;
		plant.respond(omega[i]!, p);
		spec.parts.respond(omega[i]!, c);
		times(at + 10, c[0]!, c[1]!, 1, 0);
		times(at + 12, c[0]!, c[1]!, c[2]!, c[3]!);
		times(at + 14, c[4]!, c[5]!, 1, 0);
		times(at, points[at + 10]!, points[at + 11]!, p[0]!, p[1]!);
		times(at + 2, points[at + 12]!, points[at + 13]!, p[0]!, p[1]!);
		times(at + 4, points[at + 14]!, points[at + 15]!, p[0]!, p[1]!);
		for (let k = 0; k < 3; k++)
			times(at + 16 + 2 * k, points[at + 10 + 2 * k]!, points[at + 11 + 2 * k]!, p[4]!, p[5]!);
		if (hasAngle) {
			points[at + 6] = p[2]!;
			points[at + 7] = p[3]!;
			times(at + 8, p[2]!, p[3]!, c[2]!, c[3]!);
		}
		const below = i > 0 ? omega[i]! - omega[i - 1]! : omega[i]!;
		const above = i < omega.length - 1 ? omega[i + 1]! - omega[i]! : 0;
		points[at + 22] = (spec.noise(omega[i]!) * plant.periodSec * (below + above)) / (2 * Math.PI);
	}
	return {
		name: spec.name,
		plant,
		omega,
		points,
		leastRateDelaySec: spec.leastRateDelaySec,
		leastAngleDelaySec: spec.leastAngleDelaySec,
		ratioCeilingRadPerSec: spec.ratioCeilingRadPerSec,
		holdPerNm: holdPerNm(plant),
		hasAngle,
		// One pole at 1 each for the rate, the integral and the angle.
		stableAngle: hasAngle ? -1.5 * Math.PI : -Math.PI,
	};
}

/** u that balances a held outside torque of 1 N m at rest: the ratio of what both do to the rate in the end. */
function holdPerNm({ sampledRate }: AxisPlant): number {
	const { order: n, a, bCommand, bTorque, cTrueRate } = sampledRate;
	// Just off 1: without air damping the body itself is an integrator.
	const m = a.map((v, i) => (i % (n + 1) === 0 ? 1 + 1e-9 : 0) - v);
	const b = Float64Array.from({ length: 2 * n }, (_, i) => (i % 2 === 0 ? bCommand : bTorque)[i >> 1]!);
	const x = solve(m, b, n, 2);
	let command = 0;
	let torque = 0;
	for (let i = 0; i < n; i++) {
		command += cTrueRate[i]! * x[2 * i]!;
		torque += cTrueRate[i]! * x[2 * i + 1]!;
	}
	return Math.abs(torque / command);
}
