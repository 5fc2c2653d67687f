import { ESTIMATE, WORK_FELT, WORK_STEP } from "./kernel-layout.ts";

/** A complementary estimator leans towards the tilt that the specific force suggests: how far off the true one that is, rad. */

/** `lx`, `ly`, `lz`: specific force, body axes; `r20`, `r21`, `r22`: of the rotation matrix, body to world. */
export const leanRoll = (ly: number, lz: number, r21: number, r22: number): number =>
	Math.atan2(-ly, -lz) - Math.atan2(r21, r22);

export const leanPitch = (lx: number, ly: number, lz: number, r20: number): number =>
	Math.atan2(lx, Math.sqrt(ly * ly + lz * lz)) + Math.asin(Math.max(-1, Math.min(1, r20)));

/** The Runge-Kutta step of the estimator's error, from what the stages of evolve.ts felt: e' = bias + a (lean - e). */
export function stepLean(p: Float64Array, work: Float64Array, x: Float64Array): void {
	const h = work[WORK_STEP]!;
	const a = p[18]!;
	const roll0 = x[ESTIMATE]!;
	const pitch0 = x[ESTIMATE + 1]!;
	let roll = roll0;
	let pitch = pitch0;
	let rollSum = 0;
	let pitchSum = 0;
	for (let stage = 0, at = WORK_FELT; stage < 4; stage++, at += 6) {
		const lx = work[at]!;
		const ly = work[at + 1]!;
		const lz = work[at + 2]!;
		const dRoll = p[19]! + a * (leanRoll(ly, lz, work[at + 4]!, work[at + 5]!) - roll);
		const dPitch = p[20]! + a * (leanPitch(lx, ly, lz, work[at + 3]!) - pitch);
		const weight = stage === 0 || stage === 3 ? h / 6 : h / 3;
		const ahead = stage < 2 ? 0.5 * h : h;
		rollSum += weight * dRoll;
		pitchSum += weight * dPitch;
		roll = roll0 + ahead * dRoll;
		pitch = pitch0 + ahead * dPitch;
	}
	x[ESTIMATE] = roll0 + rollSum;
	x[ESTIMATE + 1] = pitch0 + pitchSum;
}
