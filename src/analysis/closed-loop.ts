import { linearTick } from "../control/axis-linear.ts";
import type { FixedGainSet } from "../control/spec.ts";
import { eigenvalues } from "../math/eigenvalues.ts";
import type { AxisPlant } from "./axis-plant.ts";

/** The loop of one axis closed through the control law: x+ = A x + b u. */
export interface ClosedLoop {
	readonly order: number;
	readonly periodSec: number;
	readonly a: Float64Array;
	/** Per tick of held set-point (angle; yaw: rate) of 1, and of outside torque of 1 N m. */
	readonly bSetPoint: Float64Array;
	readonly bTorque: Float64Array;
	/** True angle; yaw: true rate. */
	readonly output: Float64Array;
}

/** The plant first, then the control law's own states. */
export function closeLoop(plant: AxisPlant, set: FixedGainSet): ClosedLoop {
	const { order: n, a, bCommand, bTorque, cRate, cAngle, cTrueRate, cTrueAngle } = plant.sampled;
	const law = linearTick(set, plant.axis, plant.periodSec, plant.periodSec);
	const m = law.order;
	const size = n + m;
	const dense = new Float64Array(size * size);
	const setPoint = plant.axis === "yaw" ? 2 : 0;
	const bSetPoint = new Float64Array(size);
	for (let i = 0; i < n; i++) {
		const b = bCommand[i]!;
		for (let j = 0; j < n; j++)
			dense[i * size + j] = a[i * n + j]! + b * (law.d[1]! * cAngle[j]! + law.d[3]! * cRate[j]!);
		for (let j = 0; j < m; j++) dense[i * size + n + j] = b * law.c[j]!;
		bSetPoint[i] = b * law.d[setPoint]!;
	}
	for (let i = 0; i < m; i++) {
		const row = (n + i) * size;
		for (let j = 0; j < n; j++)
			dense[row + j] = law.b[4 * i + 1]! * cAngle[j]! + law.b[4 * i + 3]! * cRate[j]!;
		for (let j = 0; j < m; j++) dense[row + n + j] = law.a[i * m + j]!;
		bSetPoint[n + i] = law.b[4 * i + setPoint]!;
	}
	const torque = new Float64Array(size);
	torque.set(bTorque);
	const output = new Float64Array(size);
	output.set(plant.axis === "yaw" ? cTrueRate : cTrueAngle);
	return { order: size, periodSec: plant.periodSec, a: dense, bSetPoint, bTorque: torque, output };
}

/** Poles of the closed loop outside the unit circle. */
export function polesOutside(loop: ClosedLoop): number {
	const { re, im } = eigenvalues(loop.a, loop.order);
	let count = 0;
	for (let i = 0; i < re.length; i++) if (Math.hypot(re[i]!, im[i]!) > 1 + 1e-8) count++;
	return count;
}
