/** How one stick's raw readings become -1..1; `Craft.sticks.roll` and its like fit. */
export interface StickOptions {
	readonly lowUs: number;
	readonly centreUs: number;
	readonly highUs: number;
	readonly reverse: boolean;
	/** Either side of centre, as a share of full deflection, below 1. */
	readonly deadBand: number;
	/** 0 straight .. 1 soft about the centre. */
	readonly centreSoftness: number;
}

/**
 * Raw reading to a pulse of 1000..2000 us: piecewise linear through low, centre and high, reversed about 1500 on wish.
 * @throws RangeError unless low < centre < high.
 */
export function calibratedUs(stick: StickOptions, readingUs: number): number {
	if (!(stick.lowUs < stick.centreUs && stick.centreUs < stick.highUs))
		throw new RangeError(
			`stick calibration: low ${stick.lowUs}, centre ${stick.centreUs}, high ${stick.highUs} us, expected rising`,
		);
	const fromCentre = readingUs - stick.centreUs;
	const span = fromCentre < 0 ? stick.centreUs - stick.lowUs : stick.highUs - stick.centreUs;
	const deflection = clampUnit(fromCentre / span) * (stick.reverse ? -1 : 1);
	return 1500 + 500 * deflection;
}

/** Deflection -1..1 past the dead band, which is cut out so that the stick starts from 0 at its edge. */
export function deflection(stick: StickOptions, readingUs: number): number {
	const x = (calibratedUs(stick, readingUs) - 1500) / 500;
	const past = Math.abs(x) - stick.deadBand;
	return past <= 0 ? 0 : (Math.sign(x) * past) / (1 - stick.deadBand);
}

/** Centre softness s: y = (1 - s) x + s x^3; full stick stays full stick. */
export function softened(softness: number, x: number): number {
	return (1 - softness) * x + softness * x * x * x;
}

/** An angle or a rate, in the unit of `atFullStick`. */
export function stickSetPoint(stick: StickOptions, readingUs: number, atFullStick: number): number {
	return softened(stick.centreSoftness, deflection(stick, readingUs)) * atFullStick;
}

/** Throttle 0..1: linear from low to high, no centre; a dead band holds 0 at the bottom. */
export function throttleFromStick(stick: StickOptions, readingUs: number): number {
	const share = (calibratedUs(stick, readingUs) - 1000) / 1000;
	return Math.max(0, (share - stick.deadBand) / (1 - stick.deadBand));
}

/** The raw reading at which `throttleFromStick` gives this throttle. */
export function stickForThrottle(stick: StickOptions, throttle: number): number {
	const share = stick.deadBand + throttle * (1 - stick.deadBand);
	const y = (2 * share - 1) * (stick.reverse ? -1 : 1);
	return stick.centreUs + y * (y < 0 ? stick.centreUs - stick.lowUs : stick.highUs - stick.centreUs);
}

/** 'half stick gives 8 deg' */
export function halfStickSentence(stick: StickOptions, atFullStick: number, kind: "angle" | "rate"): string {
	const half = 1500 + 500 * (stick.reverse ? -0.5 : 0.5);
	const raw =
		half < 1500
			? stick.centreUs - 0.5 * (stick.centreUs - stick.lowUs)
			: stick.centreUs + 0.5 * (stick.highUs - stick.centreUs);
	const degrees = (stickSetPoint(stick, raw, atFullStick) * 180) / Math.PI;
	const shown = degrees < 10 ? Math.round(degrees * 10) / 10 : Math.round(degrees);
	return `half stick gives ${shown} deg${kind === "rate" ? "/s" : ""}`;
}

function clampUnit(x: number): number {
	return Math.max(-1, Math.min(1, x));
}
