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
	const gain = (margin: Margin): Search => ({
		farthest: FARTHEST_DB,
		stride: 8,
		guess: margin.value,
		tolerance: 1e-5,
	});
	const up = firstEdge(ofGain, gain(guess.gainUpDb));
	const down = firstEdge((db) => ofGain(-db), gain(guess.gainDownDb));
	const { longestDelaySec } = opening;
	const delay = firstEdge((seconds) => growth(opening.delay(seconds)) - EDGE, {
		farthest: longestDelaySec,
		stride: Math.min(guess.delaySec.value ?? longestDelaySec, longestDelaySec) / 3,
		guess: guess.delaySec.value,
		tolerance: 1e-9,
	});
	const margin = (value: number | null, from: Margin, why: string): Margin =>
		value === null
			? { value: null, radPerSec: null, why, verdict: "satisfied" }
			: { value, radPerSec: from.radPerSec ?? 0 };
	return {
		gainMarginUpDb: margin(up, guess.gainUpDb, `stable up to ${FARTHEST_DB} dB more`),
		gainMarginDownDb: margin(down, guess.gainDownDb, `stable down to ${FARTHEST_DB} dB less`),
		delayMarginSec: margin(delay, guess.delaySec, `stable with ${1000 * longestDelaySec} ms more`),
	};
}

interface Search {
	readonly farthest: number;
	/** Of the coarse walk; wider ones follow where nothing is expected. */
	readonly stride: number;
	readonly guess: number | null;
	/** Of the answer. */
	readonly tolerance: number;
}

interface Point {
	readonly x: number;
	readonly f: number;
}

/** Least x > 0 where f turns positive, f(0) < 0; null when it does not up to `farthest`. */
function firstEdge(f: (x: number) => number, { farthest, stride, guess, tolerance }: Search): number | null {
	const at = (x: number): Point => ({ x, f: f(x) });
	let low = at(0);
	if (guess !== null && guess < farthest) {
		const steps = Math.ceil(guess / stride);
		for (let i = 1; i <= steps; i++) {
			const point = at((guess * i) / steps);
			if (i < steps && point.f < 0) low = point;
			else {
				const [below, above] = i < steps ? [low, point] : around(at, low, point, farthest);
				if (above) return refine(at, below, above, tolerance);
				low = below;
			}
		}
	}
	for (let step = stride; low.x < farthest; step *= 1.5) {
		const point = at(Math.min(farthest, low.x + step));
		if (point.f >= 0) return refine(at, low, point, tolerance);
		low = point;
	}
	return null;
}

/** A bracket near a guess, which is within a per mille where clocks are equal and within a per cent where they are alike. */
function around(
	at: (x: number) => Point,
	low: Point,
	guess: Point,
	farthest: number,
): [below: Point, above: Point | null] {
	let [below, above] = guess.f < 0 ? [guess, null] : [low, guess];
	const look = (x: number): void => {
		const point = at(Math.min(Math.max(x, low.x), farthest));
		if (point.f < 0) below = point;
		else above = point;
	};
	const away = guess.f < 0 ? 1 : -1;
	look(guess.x * (1 + 1e-3 * away));
	const still = away > 0 ? above === null : below === low;
	if (!still) return [below, above];
	// The slope of these two says where the edge is; a little beyond it.
	const second = away > 0 ? below : above!;
	const slope = (second.f - guess.f) / (second.x - guess.x);
	const reach = slope > 0 ? Math.min(-1.2 * away * (second.f / slope), 0.05 * guess.x) : 0.01 * guess.x;
	look(second.x + away * reach);
	return [below, above];
}

/**
 * Root inside a bracket: inverse quadratic steps where the three newest points allow, halving elsewhere (Chandrupatla,
 * Advances in Engineering Software 28(3), 1997, from memory), begun with a secant and ended where the slope of the bracket
 * puts the root within the tolerance.
 */
function refine(at: (x: number) => Point, low: Point, high: Point, tolerance: number): number {
	let a = high;
	let b = low;
	let t = a.f === b.f ? 0.5 : a.f / (a.f - b.f);
	for (let i = 0; i < 80; i++) {
		const best = Math.abs(a.f) < Math.abs(b.f) ? a : b;
		const width = Math.abs(b.x - a.x);
		const off = Math.abs((best.f / (a.f - b.f)) * width);
		if (best.f === 0 || width <= 2 * tolerance || (i > 0 && off < 0.1 * tolerance)) return best.x;
		const least = tolerance / width;
		const point = at(a.x + Math.min(Math.max(t, least), 1 - least) * (b.x - a.x));
		let c: Point;
		if (point.f < 0 === a.f < 0) c = a;
		else {
			c = b;
			b = a;
		}
		a = point;
		const xi = (a.x - b.x) / (c.x - b.x);
		const phi = (a.f - b.f) / (c.f - b.f);
		t =
			phi * phi < xi && (1 - phi) * (1 - phi) < 1 - xi
				? (a.f / (b.f - a.f)) * (c.f / (b.f - c.f)) +
					(((c.x - a.x) / (b.x - a.x)) * a.f * b.f) / ((c.f - a.f) * (c.f - b.f))
				: 0.5;
	}
	return (a.x + b.x) / 2;
}
