import type { ScalarLoop } from "./scalar-loop-types.ts";

/** L on a grid of rising omega, dense where L turns or passes near -1. */
export interface LoopGrid {
	readonly omega: readonly number[];
	readonly re: readonly number[];
	readonly im: readonly number[];
}

const POINTS_PER_DECADE = 12;
/** A sampled loop's steps are at most this share of pi/T, so that up to as many periods of delay cannot turn it unseen. */
const SAMPLED_STEPS = 32;

/** How far L may move between neighbours. */
interface Limits {
	/** Turn of L, rad. */
	readonly turn: number;
	/** Change of log |L|. */
	readonly log: number;
	/** Change of log omega. */
	readonly width: number;
}
/** Where |L| is near 1, and where it is far from it on either side. */
const NEAR: Limits = { turn: 0.2, log: 0.35, width: 0.1 };
const FAR: Limits = { turn: 0.6, log: 1, width: 1 };
/** |L| from one over this to this is near 1. */
const NEAR_GAIN = 10;
/** Largest step over the distance to -1. */
const MAX_STEP = 0.2;
const MAX_DEPTH = 44;

/**
 * Starts from even spacing in log omega plus the loop's hints and points close on both sides of each, then halves
 * every interval until L moves little over it. A resonance turns the phase by 180 degrees, so it is found however
 * narrow; a pole and zero that nearly cancel between two points leave no trace outside and need a hint.
 */
export function scanLoop(loop: ScalarLoop): LoopGrid {
	const { lowestRadPerSec: low, highestRadPerSec: high } = loop;
	if (!(low > 0 && high > low && Number.isFinite(high)))
		throw new RangeError(`scanLoop: range ${low} to ${high} rad/s, expected 0 < lowest < highest`);
	const grid = { omega: [] as number[], re: [] as number[], im: [] as number[] };
	const out = new Float64Array(2);
	const evaluate = (omega: number): Point | null => {
		loop.respond(omega, out);
		const re = out[0]!;
		const im = loop.periodSec !== undefined && omega === high ? 0 : out[1]!;
		return Number.isFinite(re) && Number.isFinite(im) ? { omega, re, im } : null;
	};
	const keep = (p: Point): void => {
		grid.omega.push(p.omega);
		grid.re.push(p.re);
		grid.im.push(p.im);
	};
	/** Adds everything after a up to and including b. */
	const fill = (a: Point, b: Point, depth: number): void => {
		const divisible = depth > 0 && b.omega - a.omega > 1e-12 * b.omega && !smooth(a, b);
		const middle = divisible ? evaluate((a.omega + b.omega) / 2) : null;
		if (middle === null) {
			keep(b);
			return;
		}
		fill(a, middle, depth - 1);
		fill(middle, b, depth - 1);
	};
	let last: Point | null = null;
	for (const omega of startingPoints(loop)) {
		const next = evaluate(omega);
		if (next === null) continue;
		if (last === null) keep(next);
		else fill(last, next, MAX_DEPTH);
		last = next;
	}
	if (last === null) throw new RangeError("scanLoop: the response is finite nowhere, expected a loop");
	return grid;
}

interface Point {
	readonly omega: number;
	readonly re: number;
	readonly im: number;
}

function smooth(a: Point, b: Point): boolean {
	const la = Math.hypot(a.re, a.im);
	const lb = Math.hypot(b.re, b.im);
	if (la < 1e-9 && lb < 1e-9) return true;
	const step = Math.hypot(b.re - a.re, b.im - a.im);
	const near = Math.min(Math.hypot(1 + a.re, a.im), Math.hypot(1 + b.re, b.im));
	if (step <= 1e-9) return true;
	const isNear = Math.max(la, lb) > 1 / NEAR_GAIN && Math.min(la, lb) < NEAR_GAIN;
	const { turn, log, width } = isNear ? NEAR : FAR;
	if (b.omega > a.omega * (1 + width)) return false;
	const turned = Math.abs(Math.atan2(a.re * b.im - a.im * b.re, a.re * b.re + a.im * b.im));
	if (turned > turn || Math.abs(Math.log(lb / la)) > log) return false;
	return step <= MAX_STEP * near || (la > 100 && lb > 100);
}

function startingPoints(loop: ScalarLoop): number[] {
	const { lowestRadPerSec: low, highestRadPerSec: high } = loop;
	const count = Math.max(8, Math.ceil(POINTS_PER_DECADE * Math.log10(high / low)));
	const points: number[] = [];
	const ratio = (high / low) ** (1 / count);
	const longest = startingStep(loop);
	let w = low;
	for (; w < high; w = Math.min(w * ratio, w + longest)) points.push(w);
	points.push(high);
	for (const hint of loop.hintsRadPerSec ?? []) {
		points.push(hint);
		for (let k = 1; k <= 8; k++) points.push(hint * (1 - 10 ** -k), hint * (1 + 10 ** -k));
	}
	const inside = points.filter((w) => w >= low && w <= high).sort((a, b) => a - b);
	return inside.filter((w, i) => i === 0 || w > inside[i - 1]!);
}

/** So that no known delay turns L by more than a third of a turn unseen; at most some thousand points more. */
function startingStep({ highestRadPerSec: high, periodSec, delaySec = 0 }: ScalarLoop): number {
	if (periodSec !== undefined) return high / SAMPLED_STEPS;
	return delaySec > 0 ? Math.max(2 / delaySec, high / 4000) : Number.POSITIVE_INFINITY;
}
