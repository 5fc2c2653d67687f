/** What `scanMargins` writes. Infinity: no such crossing in the scan, so nothing to limit. */
export interface ScanResult {
	ms: number;
	mt: number;
	/** Least |180 + arg L| over all gain crossings. */
	phaseMarginDeg: number;
	gainMarginUpDb: number;
	gainMarginDownDb: number;
	delayMarginSec: number;
	/** Highest gain crossing; 0 when |L| never meets 1. */
	crossoverRadPerSec: number;
}

export const createScanResult = (): ScanResult => ({
	ms: 1,
	mt: 0,
	phaseMarginDeg: Infinity,
	gainMarginUpDb: Infinity,
	gainMarginDownDb: Infinity,
	delayMarginSec: Infinity,
	crossoverRadPerSec: 0,
});

/**
 * Margins of a loop known to be STABLE, from L on a fixed rising grid of omega (rad/s), by local cubics in
 * log omega. Allocates nothing.
 */
export function scanMargins(
	omega: Float64Array,
	re: Float64Array,
	im: Float64Array,
	out: ScanResult,
): ScanResult {
	throw new Error(`scanMargins: not written yet (${omega.length}, ${re.length}, ${im.length}, ${out.ms})`);
}
