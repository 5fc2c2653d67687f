/**
 * PID forms. Parallel: kp + ki/s + kd s. Standard: kp (1 + 1/(Ti s) + Td s). Series: kc (1 + 1/(Ti s)) (1 + Td s).
 * Series to standard by f = 1 + Td/Ti: kc f, Ti + Td, Td/f (Skogestad, J. Process Control 13 (2003) 291-309).
 */
export interface ParallelForm {
	readonly kp: number;
	readonly ki: number;
	readonly kd: number;
}

export interface StandardForm {
	readonly kp: number;
	/** Seconds (or ticks); null: no integral. */
	readonly ti: number | null;
	readonly td: number;
}

/** @throws RangeError for kp 0 with ki or kd not 0, which the standard form cannot write. */
export function parallelToStandard({ kp, ki, kd }: ParallelForm): StandardForm {
	if (kp === 0 && (ki !== 0 || kd !== 0))
		throw new RangeError(`standard form: kp 0 with ki ${ki} and kd ${kd}, expected kp other than 0`);
	return { kp, ti: ki === 0 ? null : kp / ki, td: kp === 0 ? 0 : kd / kp };
}

export function standardToParallel({ kp, ti, td }: StandardForm): ParallelForm {
	if (ti !== null && !(ti > 0)) throw new RangeError(`standard form: Ti ${ti}, expected above 0 or none`);
	return { kp, ki: ti === null ? 0 : kp / ti, kd: kp * td };
}

export function seriesToStandard({ kp, ti, td }: StandardForm): StandardForm {
	if (ti === null) return { kp, ti, td };
	const f = 1 + td / ti;
	return { kp: kp * f, ti: ti + td, td: td / f };
}

/** Null when there is no real series form: Ti < 4 Td. */
export function standardToSeries({ kp, ti, td }: StandardForm): StandardForm | null {
	if (ti === null) return { kp, ti, td };
	if (ti < 4 * td) return null;
	const root = Math.sqrt(1 - (4 * td) / ti);
	return { kp: (kp * (1 + root)) / 2, ti: (ti * (1 + root)) / 2, td: (ti * (1 - root)) / 2 };
}
