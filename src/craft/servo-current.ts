import type { LimbServo } from "./limb-model.ts";

/** Current that a servo takes from the electronics supply while it gives a torque, A: its stall current's share, and no more than that. */
export const servoAmperes = (
	{ stallCurrentA, torqueLimitNm }: Pick<LimbServo, "stallCurrentA" | "torqueLimitNm">,
	torqueNm: number,
): number => stallCurrentA * Math.min(1, Math.abs(torqueNm) / torqueLimitNm);

/** The same of all links together. */
export const limbAmperes = (
	links: readonly { readonly servo: LimbServo }[],
	torquesNm: ArrayLike<number>,
): number => links.reduce((sum, { servo }, i) => sum + servoAmperes(servo, torquesNm[i] ?? 0), 0);
