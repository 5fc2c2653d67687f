/**
 * How old what one clock hands to another is, over the pattern's whole repetition. `respond` is the mean of
 * exp(-j omega age): over ticks for a sensor, over time for a hold.
 */
export interface AgePattern {
	/** The age is the same at every tick, or the hold starts at the same age and lasts one period: then it is a pure delay. */
	readonly constant: boolean;
	/** Mean age; of a hold, at its start: a plain zero-order hold at once has 0. */
	readonly meanSec: number;
	/** out = [Re, Im] at omega (rad/s). For a hold relative to the ideal one over a control period. */
	respond(omegaRadPerSec: number, out: Float64Array): void;
}

const MICRO = 1e-6;

export function gcd(a: number, b: number): number {
	while (b !== 0) [a, b] = [b, a % b];
	return a;
}

export const lcm = (a: number, b: number): number => (a / gcd(a, b)) * b;

const modulo = (x: number, m: number): number => ((x % m) + m) % m;

/** Phase of samples, arriving latencyUs later, that just miss as many ticks as they can. */
export function worstSensorPhase(periodUs: number, latencyUs: number, tickUs: number): number {
	return modulo(1 - latencyUs, gcd(periodUs, tickUs));
}

/** Phase of frames that come as early as they can before a value published computeUs after its tick. */
export function worstFramePhase(periodUs: number, computeUs: number, tickUs: number): number {
	return modulo(computeUs - 1, gcd(periodUs, tickUs));
}

/** Age of the newest sample that has arrived at a tick; whole microseconds. */
export function sampleAge(atUs: number, periodUs: number, phaseUs: number, latencyUs: number): number {
	return latencyUs + modulo(atUs - latencyUs - phaseUs, periodUs);
}

/** Samples every periodUs from phaseUs, each arriving latencyUs later, read at ticks every tickUs from 0. */
export function sensorPattern(
	periodUs: number,
	phaseUs: number,
	latencyUs: number,
	tickUs: number,
): AgePattern {
	const ticks = lcm(periodUs, tickUs) / tickUs;
	const ages: number[] = [];
	for (let k = 0; k < ticks; k++) ages.push(MICRO * sampleAge(k * tickUs, periodUs, phaseUs, latencyUs));
	return {
		constant: ages.every((age) => age === ages[0]),
		meanSec: mean(ages),
		respond: meanTurn(ages),
	};
}

/**
 * Values made at ticks every tickUs from 0, published computeUs later, latched by frames every periodUs from
 * phaseUs, applied at once and held until the next frame's value. Pulse transport is a pure delay on top.
 */
export function holdPattern(
	periodUs: number,
	phaseUs: number,
	computeUs: number,
	tickUs: number,
): AgePattern {
	const frames = lcm(periodUs, tickUs) / periodUs;
	const starts: number[] = [];
	for (let m = 0; m < frames; m++)
		starts.push(MICRO * sampleAge(m * periodUs + phaseUs, tickUs, 0, computeUs));
	const held = MICRO * periodUs;
	const period = MICRO * tickUs;
	const earliest = Math.min(...starts);
	// A tick's value stays until a frame finds a newer one: constant when every latched value is new or held on from before.
	const constant = periodUs <= tickUs && tickUs % periodUs === 0;
	// Mean over a frame of exp(-jw(start + s)) is exp(-jw(start + held/2)) sinc(w held/2).
	const turn = meanTurn(starts.map((start) => start + (held - period) / 2));
	return {
		constant,
		meanSec: constant ? earliest : mean(starts) + (held - period) / 2,
		respond(omega, out) {
			turn(omega, out);
			const size = sinc((omega * held) / 2) / sinc((omega * period) / 2);
			out[0]! *= size;
			out[1]! *= size;
		},
	};
}

/**
 * Mean of exp(-j omega age). Ages of two clocks that drift past each other take every step of their common divisor once, so
 * that they stand evenly: then the sum is that of a geometric series, sin(n w s/2)/(n sin(w s/2)) about the middle.
 */
function meanTurn(ages: readonly number[]): (omega: number, out: Float64Array) => void {
	const sorted = [...ages].sort((a, b) => a - b);
	const count = ages.length;
	const step = (sorted.at(-1)! - sorted[0]!) / Math.max(1, count - 1);
	const even = sorted.every((age, i) => Math.abs(age - sorted[0]! - i * step) < EVEN_SEC);
	const middle = (sorted[0]! + sorted.at(-1)!) / 2;
	return (omega, out) => {
		const half = (omega * step) / 2;
		// Near pi, the next maximum, the quotient would lose digits; below pi/T no one comes there.
		if (even && half < 2) {
			const size = half === 0 ? 1 : Math.sin(count * half) / (count * Math.sin(half));
			out[0] = size * Math.cos(omega * middle);
			out[1] = -size * Math.sin(omega * middle);
			return;
		}
		let re = 0;
		let im = 0;
		for (const age of ages) {
			re += Math.cos(omega * age);
			im -= Math.sin(omega * age);
		}
		out[0] = re / count;
		out[1] = im / count;
	};
}

/** Ages are whole microseconds; this is rounding. */
const EVEN_SEC = 1e-12;

const mean = (list: readonly number[]): number => list.reduce((a, b) => a + b, 0) / list.length;
const sinc = (x: number): number => (x === 0 ? 1 : Math.sin(x) / x);
