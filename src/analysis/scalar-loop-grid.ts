import type { ScalarLoop } from "./scalar-loop-types.ts";

/** L on a grid of rising omega, dense where L turns or passes near -1. */
export interface LoopGrid {
	readonly omega: readonly number[];
	readonly re: readonly number[];
	readonly im: readonly number[];
}

const POINTS_PER_DECADE = 24;
/** Largest turn of L between neighbours (rad), largest change of log |L|, largest step over the distance to -1. */
const MAX_TURN = 0.2;
const MAX_LOG = 0.35;
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
		const middle =
			depth > 0 && b.omega - a.omega > 1e-12 * b.omega ? evaluate((a.omega + b.omega) / 2) : null;
		if (middle === null) {
			keep(b);
			return;
		}
		if (smooth(a, middle) && smooth(middle, b)) {
			keep(middle);
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
	const turn = Math.abs(Math.atan2(a.re * b.im - a.im * b.re, a.re * b.re + a.im * b.im));
	if (turn > MAX_TURN || Math.abs(Math.log(lb / la)) > MAX_LOG) return false;
	return step <= MAX_STEP * near || (la > 100 && lb > 100);
}

function startingPoints(loop: ScalarLoop): number[] {
	const { lowestRadPerSec: low, highestRadPerSec: high } = loop;
	const count = Math.max(8, Math.ceil(POINTS_PER_DECADE * Math.log10(high / low)));
	const points: number[] = [];
	for (let i = 0; i <= count; i++) points.push(i === count ? high : low * (high / low) ** (i / count));
	for (const hint of loop.hintsRadPerSec ?? []) {
		points.push(hint);
		for (let k = 1; k <= 8; k++) points.push(hint * (1 - 10 ** -k), hint * (1 + 10 ** -k));
	}
	const inside = points.filter((w) => w >= low && w <= high).sort((a, b) => a - b);
	return inside.filter((w, i) => i === 0 || w > inside[i - 1]!);
}
