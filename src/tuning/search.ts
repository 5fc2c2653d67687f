import type { CornerTable } from "./corner-table.ts";
import {
	createLoopTest,
	type Gains4,
	type LoopTest,
	type TestLimits,
	testLimits,
	testLoop,
} from "./loop-test.ts";
import { type AxisSearchProblem, askedShare, cornerCost, objectiveBound } from "./problem.ts";
import { violation } from "./violation.ts";

/** A point of the search: ln(k_angle/w), ln(kp/unit), ln(ki/(kp w)), kd w/kp, with w the natural frequency. */
export type Point = readonly [number, number, number, number];

export function gainsAt(problem: AxisSearchProblem, x: Point): Gains4 {
	const w = problem.numbers.naturalRadPerSec;
	const kp = problem.kpUnit * Math.exp(x[1]);
	return [
		problem.axis === "yaw" ? 0 : w * Math.exp(x[0]),
		kp,
		kp * w * Math.exp(x[2]),
		(kp * Math.max(0, x[3])) / w,
	];
}

/** Judges candidates, cheapest test first; keeps which corners bite most so that a bad candidate falls early. */
export class Judge {
	readonly problem: AxisSearchProblem;
	readonly limits: TestLimits;
	readonly counters = { candidates: 0, frequencyTests: 0, stepTests: 0 };
	readonly #test: LoopTest = createLoopTest();
	readonly #byTest: CornerTable[];
	readonly #worst: CornerTable[] = [];
	/** So many corners at the front have made a candidate fall. */
	#fallen = 0;

	constructor(problem: AxisSearchProblem) {
		this.problem = problem;
		this.limits = testLimits(problem.limits);
		this.#byTest = [...problem.tables];
	}

	/** Whether every limit holds in every corner. */
	keepsLimits(gains: Gains4): boolean {
		return this.#holds(gains, 0, this.#byTest.length);
	}

	/** Corners `from` .. `to` of the list; one that falls moves to the front, among those that have made something fall. */
	#holds(gains: Gains4, from: number, to: number): boolean {
		for (let c = from; c < to; c++) {
			const table = this.#byTest[c]!;
			this.counters.frequencyTests++;
			if (testLoop(table, gains, this.limits, this.#test)) continue;
			this.#byTest.copyWithin(1, 0, c);
			this.#byTest[0] = table;
			if (c >= this.#fallen) this.#fallen++;
			return false;
		}
		return true;
	}

	/**
	 * J of the worst corner; Infinity as soon as one is no better than `best`. Only the corners that have been worst are looked
	 * at; `fullCost` looks at all.
	 */
	cost(gains: Gains4, best: number): number {
		if (this.#worst.length === 0) return this.fullCost(gains);
		let worst = 0;
		for (const table of this.#worst) {
			this.counters.stepTests++;
			worst = Math.max(worst, cornerCost(this.problem, table, gains).objective);
			if (!(worst < best)) return Infinity;
		}
		return worst;
	}

	/** J of the worst of all corners, which `cost` looks at from now on. */
	fullCost(gains: Gains4): number {
		let worst = 0;
		let at: CornerTable | null = null;
		for (const table of this.problem.tables) {
			this.counters.stepTests++;
			const { objective } = cornerCost(this.problem, table, gains);
			if (objective > worst) {
				worst = objective;
				at = table;
			}
		}
		if (at && !this.#worst.includes(at)) this.#worst.unshift(at);
		return worst;
	}

	/** J where all limits hold and it is better than `best`, else Infinity. */
	objective(gains: Gains4, best: number): number {
		this.counters.candidates++;
		if (objectiveBound(this.problem, gains) * 0.995 >= best) return Infinity;
		if (askedShare(this.problem, gains) > this.problem.limits.authorityShare) return Infinity;
		const usual = this.#fallen;
		if (!this.#holds(gains, 0, usual)) return Infinity;
		const value = this.cost(gains, best);
		if (!(value < best)) return Infinity;
		return this.#holds(gains, usual, this.#byTest.length) ? value : Infinity;
	}

	/** By how much the worst limit in the worst corner is missed, relative; below 0: all hold. Infinity beyond `best`. */
	missedBy(gains: Gains4, best: number): number {
		this.counters.candidates++;
		let worst = -Infinity;
		for (let c = 0; c < this.#byTest.length; c++) {
			const table = this.#byTest[c]!;
			this.counters.frequencyTests++;
			testLoop(table, gains, null, this.#test);
			const missed = violation(this.#test, table, gains, this.problem.limits, {
				share: askedShare(this.problem, gains),
			}).missed;
			if (missed > worst) {
				worst = missed;
				if (c > 0) {
					this.#byTest.copyWithin(1, 0, c);
					this.#byTest[0] = table;
				}
			}
			if (!(worst < best)) return Infinity;
		}
		return worst;
	}
}

export interface Found {
	readonly gains: Gains4;
	readonly point: Point;
	/** J, or what the worst limit is missed by when infeasible. */
	readonly value: number;
	readonly feasible: boolean;
}

/** Bounds and counts of the first scan: k_angle/w, kp/unit, ki/(kp w), kd w/kp. */
const SCAN = {
	angle: { from: 0.012, to: 0.8, count: 13 },
	kp: { from: 0.03, to: 2, count: 15 },
	ratio: { from: 0.006, to: 0.5, count: 9 },
	derivative: [0, 0.1, 0.2, 0.35, 0.5, 0.7, 1, 1.4],
} as const;

export function ladder(range: {
	readonly from: number;
	readonly to: number;
	readonly count: number;
}): number[] {
	return Array.from(
		{ length: range.count },
		(_, i) => Math.log(range.from) + (i / (range.count - 1)) * Math.log(range.to / range.from),
	);
}

function scanPoints(problem: AxisSearchProblem): Point[] {
	const yaw = problem.axis === "yaw";
	const angles = yaw ? [0] : ladder(SCAN.angle);
	const kps = ladder(yaw ? { ...SCAN.kp, count: 40 } : SCAN.kp);
	const ratios = ladder(yaw ? { ...SCAN.ratio, count: 24 } : SCAN.ratio);
	const points: Point[] = [];
	for (const d of problem.usesDerivative ? SCAN.derivative : [0])
		for (const i of ratios) for (const p of kps) for (const k of angles) points.push([k, p, i, d]);
	return points;
}

/** Half widths of the first box of a refinement: one cell of the scan. */
const FIRST_BOX: Point = [0.35, 0.3, 0.5, 0.3];
const SMALLEST_BOX = 0.002;
const POINTS_PER_ROUND = 28;
const STARTS = 3;

/** How much worse than the best a start may be. */
const WORTH_STARTING = 1.2;

/** The best gains: a scan of the whole box, then refinements from its best few, the same on every run. */
export function searchAxis(judge: Judge): Found {
	const { problem } = judge;
	const points = scanPoints(problem);
	// By what J can at best be: once that is worse than what was found, nothing further down can be better.
	const sorted = points
		.map((point) => ({ point, bound: objectiveBound(problem, gainsAt(problem, point)) }))
		.sort((a, b) => a.bound - b.bound);
	const good: { point: Point; value: number }[] = [];
	let best = Infinity;
	for (const { point, bound } of sorted) {
		if (bound > best * WORTH_STARTING) break;
		const value = judge.objective(gainsAt(problem, point), best * WORTH_STARTING);
		if (!Number.isFinite(value)) continue;
		best = Math.min(best, value);
		good.push({ point, value });
	}
	if (good.length === 0) {
		const near = nearest(judge, points);
		return near.value > 0 ? near : climb(judge, [near.point]);
	}
	good.sort((a, b) => a.value - b.value);
	const starts: Point[] = [];
	for (const { point } of good)
		if (starts.length < STARTS && starts.every((s) => distance(s, point) > 1)) starts.push(point);
	return climb(judge, starts);
}

function climb(judge: Judge, starts: readonly Point[]): Found {
	const { problem } = judge;
	let best: { point: Point; value: number } = { point: starts[0]!, value: Infinity };
	for (const start of starts) {
		const end = climbFrom(judge, start);
		if (end.value < best.value) best = end;
	}
	return {
		gains: gainsAt(problem, best.point),
		point: best.point,
		value: best.value,
		feasible: Number.isFinite(best.value),
	};
}

/** Refines until the corner that is worst at the end is one that the search had looked at. */
function climbFrom(judge: Judge, start: Point): { point: Point; value: number } {
	const { problem } = judge;
	let point = start;
	for (let round = 0; round < 6; round++) {
		const gains = gainsAt(problem, point);
		const end = refine(
			problem,
			point,
			(g, limit) => judge.objective(g, limit),
			judge.objective(gains, Infinity),
			round > 0,
		);
		point = end.point;
		const full = judge.fullCost(gainsAt(problem, point));
		if (!(full > end.value * 1.0005) || round === 5) return { point, value: full };
	}
	throw new Error("climbFrom: unreachable");
}

/** No candidate kept every limit: the one that misses them least. */
function nearest(judge: Judge, points: readonly Point[]): Found {
	const { problem } = judge;
	let best: Point = points[0]!;
	let value = Infinity;
	for (const point of points) {
		const missed = judge.missedBy(gainsAt(problem, point), value);
		if (missed < value) {
			value = missed;
			best = point;
		}
	}
	const end = refine(problem, best, (gains, limit) => judge.missedBy(gains, limit), value);
	return { gains: gainsAt(problem, end.point), point: end.point, value: end.value, feasible: false };
}

/** In cells of the scan. */
function distance(a: Point, b: Point): number {
	return Math.max(...a.map((v, i) => Math.abs(v - b[i]!) / FIRST_BOX[i]!));
}

/**
 * Boxes about the best point so far, filled by Halton's sequence (Numer. Math. 2, 1960; from memory), moving at once to
 * anything better and one more step in the direction that helped; a box in which nothing was better shrinks.
 */
function refine(
	problem: AxisSearchProblem,
	start: Point,
	value: (gains: Gains4, limit: number) => number,
	startValue: number,
	again = false,
): { point: Point; value: number } {
	let centre = start;
	let best = startValue;
	let index = 1;
	const free = [problem.axis !== "yaw", true, true, problem.usesDerivative];
	const attempt = (point: Point): boolean => {
		const found = value(gainsAt(problem, point), best);
		if (!(found < best)) return false;
		best = found;
		centre = point;
		return true;
	};
	for (let box = again ? 0.1 : 1; box > SMALLEST_BOX; ) {
		let moved = false;
		for (let n = 0; n < POINTS_PER_ROUND; n++, index++) {
			const from = centre;
			const step = [2, 3, 5, 7].map((base, i) =>
				free[i] ? (2 * radicalInverse(index, base) - 1) * box * FIRST_BOX[i]! : 0,
			);
			const along = (by: number): Point =>
				from.map((v, i) =>
					i === 3 ? Math.max(0, v + by * step[i]!) : v + by * step[i]!,
				) as unknown as Point;
			if (!attempt(along(1))) continue;
			moved = true;
			for (let far = 2; far <= 8 && attempt(along(far)); far *= 2);
		}
		box *= moved ? 0.9 : 0.6;
	}
	return { point: centre, value: best };
}

function radicalInverse(index: number, base: number): number {
	let result = 0;
	let weight = 1 / base;
	for (let i = index; i > 0; i = Math.floor(i / base), weight /= base) result += (i % base) * weight;
	return result;
}
