import type { Heave } from "../physics/heave.ts";

/**
 * A person at the throttle stick who sees height and vertical speed, by the crossover model: whatever the craft, the person adapts
 * so that person times craft is near omega_c e^(-j omega tau_e) / (j omega) about the crossover (McRuer, Graham, Krendel and Reisener,
 * AFFDL-TR-65-15, 1965; McRuer and Krendel, AGARDograph 188, 1974; numbers from memory).
 *
 *     Y_p = K_p (1 + T_L s) (1 + alpha/s) e^(-delay s) / (1 + T_N s)      tau_e = delay + T_N
 *
 * T_L takes back the craft's heave damping, K_p makes |person x craft| 1 at omega_c. alpha/s is how a person trims a steady error out
 * (the extended crossover model's e^(-j alpha/omega)). No remnant: this person makes no errors at random.
 */
export const PERSON = {
	/** Sees and moves on this clock. */
	periodUs: 20_000,
	/** rad/s; a calm one: tracking tests find 3 to 5. */
	crossoverRadPerSec: 2,
	/** Seeing and deciding; with the lag 0.36 s, what the tests give for a rate-like craft. */
	delaySec: 0.26,
	/** Muscles and stick. */
	lagSec: 0.1,
	/** People give no more lead than that. */
	mostLeadSec: 5,
	trimPerSec: 0.15,
} as const;

const PERIOD_SEC = PERSON.periodUs * 1e-6;
export const DELAY_TICKS = Math.round(PERSON.delaySec / PERIOD_SEC);
/** Share of the way to its goal that the stick moves in one period. */
export const LAG_SHARE = 1 - Math.exp(-PERIOD_SEC / PERSON.lagSec);

/** A person who has got used to a craft. */
export interface Person {
	/** Throttle per metre. */
	readonly gain: number;
	readonly leadSec: number;
}

export function personFor({ slope, dampingPerSec, lagSec }: Heave): Person {
	const { crossoverRadPerSec: w, mostLeadSec, trimPerSec } = PERSON;
	const leadSec = Math.min(mostLeadSec, 1 / dampingPerSec);
	const person =
		(Math.hypot(1, leadSec * w) * Math.hypot(1, trimPerSec / w)) / Math.hypot(1, PERSON.lagSec * w);
	const craft = slope / (w * Math.hypot(w, dampingPerSec) * Math.hypot(1, lagSec * w));
	return { gain: 1 / (person * craft), leadSec };
}
