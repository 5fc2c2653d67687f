import { boxSearch } from "./boxes.ts";
import type { Judge } from "./judge.ts";
import type { Gains4 } from "./loop-test.ts";
import { CELL, freedom, gainsAt, type Point } from "./point.ts";
import { polish } from "./polish.ts";
import { type AxisSearchProblem, objectiveBound } from "./problem.ts";

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

function ladder(range: { readonly from: number; readonly to: number; readonly count: number }): number[] {
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

const SMALLEST_BOX = 0.002;
const ROUGH_BOX = 0.15;
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

/** After the boxes, starts this much worse than the best are not polished. */
const WORTH_POLISHING = 1.04;

function climb(judge: Judge, starts: readonly Point[]): Found {
	const { problem } = judge;
	const rough = starts
		.map((start) =>
			boxSearch(
				start,
				judge.objective(gainsAt(problem, start), Infinity),
				(x, limit) => judge.objective(gainsAt(problem, x), limit),
				{ first: 1, last: ROUGH_BOX, pointsPerBox: POINTS_PER_ROUND, free: freedom(problem) },
			),
		)
		.sort((a, b) => a.value - b.value);
	let best: { point: Point; value: number } = { point: starts[0]!, value: Infinity };
	for (const { point, value } of rough) {
		if (value > rough[0]!.value * WORTH_POLISHING) break;
		const end = settle(judge, point);
		if (end.value < best.value) best = end;
	}
	return {
		gains: gainsAt(problem, best.point),
		point: best.point,
		value: best.value,
		feasible: Number.isFinite(best.value),
	};
}

/** Polishes until the corner that is worst at the end is one that the search had looked at. */
function settle(judge: Judge, start: Point): { point: Point; value: number } {
	const { problem } = judge;
	let point = start;
	for (let round = 0; ; round++) {
		const end = polish(judge, point, judge.objective(gainsAt(problem, point), Infinity));
		point = end.point;
		const full = judge.fullCost(gainsAt(problem, point));
		if (!(full > end.value * 1.0005) || round === 5) return { point, value: full };
	}
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
	const end = boxSearch(best, value, (x, limit) => judge.missedBy(gainsAt(problem, x), limit), {
		first: 1,
		last: SMALLEST_BOX,
		pointsPerBox: POINTS_PER_ROUND,
		free: freedom(problem),
	});
	return { gains: gainsAt(problem, end.point), point: end.point, value: end.value, feasible: false };
}

/** In cells of the scan. */
function distance(a: Point, b: Point): number {
	return Math.max(...a.map((v, i) => Math.abs(v - b[i]!) / CELL[i]!));
}
