import type { LiftedLoop, LoopChange } from "./lifted.ts";
import type { Margin } from "./scalar-loop-types.ts";

/** Where to start looking: what the frequency answer says, if it says anything. */
export interface LiftedGuess {
	readonly gainUpDb: Margin;
	readonly gainDownDb: Margin;
	readonly delaySec: Margin;
}

export interface LiftedMargins {
	readonly gainMarginUpDb: Margin;
	readonly gainMarginDownDb: Margin;
	readonly delayMarginSec: Margin;
}

/** How one opening's gain and delay act on the loop. */
export interface Opening {
	readonly loop: LiftedLoop;
	gain(factor: number): readonly LoopChange[];
	delay(seconds: number): readonly LoopChange[];
	/** Longer ones are not looked for: each clock period of delay is a state more. */
	readonly longestDelaySec: number;
}

const FARTHEST_DB = 60;
/** Growth per second below which a loop counts as stable. */
const EDGE = 1e-7;

/**
 * Gain margins both ways and delay margin by the lifted loop: a coarse walk from the working point, which finds the first edge
 * where several exist, then the edge itself.
 */
export function liftedMargins(opening: Opening, guess: LiftedGuess): LiftedMargins {
	const growth = (changes: readonly LoopChange[]): number =>
		Math.log(Math.max(opening.loop.radius(changes), 1e-300)) / opening.loop.hyperperiodSec;
	const ofGain = (db: number): number => growth(opening.gain(10 ** (db / 20))) - EDGE;
	if (!(ofGain(0) < 0)) {
		const none = {
			value: null,
			radPerSec: null,
			why: "unstable without any change",
			verdict: "undefined",
		} as const;
		return { gainMarginUpDb: none, gainMarginDownDb: none, delayMarginSec: none };
	}
	const up = firstEdge(ofGain, FARTHEST_DB, 8, guess.gainUpDb.value);
	const down = firstEdge((db) => ofGain(-db), FARTHEST_DB, 8, guess.gainDownDb.value);
	const delay = firstEdge(
		(seconds) => growth(opening.delay(seconds)) - EDGE,
		opening.longestDelaySec,
		Math.min(guess.delaySec.value ?? opening.longestDelaySec, opening.longestDelaySec) / 3,
		guess.delaySec.value,
	);
	const margin = (value: number | null, from: Margin, why: string): Margin =>
		value === null
			? { value: null, radPerSec: null, why, verdict: "satisfied" }
			: { value, radPerSec: from.radPerSec ?? 0 };
	return {
		gainMarginUpDb: margin(up, guess.gainUpDb, `stable up to ${FARTHEST_DB} dB more`),
		gainMarginDownDb: margin(down, guess.gainDownDb, `stable down to ${FARTHEST_DB} dB less`),
		delayMarginSec: margin(delay, guess.delaySec, `stable with ${1000 * opening.longestDelaySec} ms more`),
	};
}

/** Least x > 0 where f turns positive, f(0) < 0; null when it does not up to `farthest`. */
function firstEdge(
	f: (x: number) => number,
	farthest: number,
	stride: number,
	guess: number | null,
): number | null {
	let low = 0;
	let high: number | null = null;
	if (guess !== null && guess < farthest) {
		// Walk coarsely to just short of the guess, then look either side of it.
		const near = Math.min(0.01 * guess, stride / 3);
		const steps = Math.ceil(Math.max(0, guess - near) / stride);
		for (let i = 1; i <= steps; i++) {
			const x = ((guess - near) * i) / steps;
			if (f(x) >= 0) {
				high = x;
				break;
			}
			low = x;
		}
		if (high === null && f(guess + near) >= 0) high = guess + near;
		else if (high === null) low = guess + near;
	}
	for (let step = stride; high === null && low < farthest; step *= 1.5) {
		const x = Math.min(farthest, low + step);
		if (f(x) >= 0) high = x;
		else low = x;
	}
	return high === null ? null : refine(f, low, high);
}

/**
 * Root inside a bracket: inverse quadratic steps where the three newest points allow, halving elsewhere (Chandrupatla,
 * Advances in Engineering Software 28(3), 1997, from memory).
 */
function refine(f: (x: number) => number, from: number, to: number): number {
	let a = to;
	let b = from;
	let fa = f(a);
	let fb = f(b);
	let t = 0.5;
	for (let i = 0; i < 80; i++) {
		const x = a + t * (b - a);
		const fx = f(x);
		let c: number;
		let fc: number;
		if (fx < 0 === fa < 0) {
			c = a;
			fc = fa;
		} else {
			c = b;
			fc = fb;
			b = a;
			fb = fa;
		}
		a = x;
		fa = fx;
		const best = Math.abs(fa) < Math.abs(fb) ? a : b;
		const least = (1e-6 * Math.max(Math.abs(best), 1e-6)) / Math.abs(b - a);
		if (fa === 0 || fb === 0 || least > 0.5) return best;
		const xi = (a - b) / (c - b);
		const phi = (fa - fb) / (fc - fb);
		t =
			phi * phi < xi && (1 - phi) * (1 - phi) < 1 - xi
				? (fa / (fb - fa)) * (fc / (fb - fc)) + (((c - a) / (b - a)) * fa * fb) / ((fc - fa) * (fc - fb))
				: 0.5;
		t = Math.min(Math.max(t, least), 1 - least);
	}
	return (a + b) / 2;
}
