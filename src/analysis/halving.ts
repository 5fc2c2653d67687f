/**
 * Degrees at `crossoverRadPerSec` that halving a pure delay gives back, or halving the time constant of a first-order lag, whose
 * phase is atan(w tau).
 */
export function halvingBuysDeg(kind: "delay" | "lag", sec: number, crossoverRadPerSec: number): number {
	const angle = (t: number): number =>
		kind === "lag" ? Math.atan(crossoverRadPerSec * t) : crossoverRadPerSec * t;
	return ((angle(sec) - angle(sec / 2)) * 180) / Math.PI;
}
