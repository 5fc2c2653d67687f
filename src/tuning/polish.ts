import { boxSearch } from "./boxes.ts";
import type { Judge, MeasuredCorners } from "./judge.ts";
import { freedom, gainsAt, moved, type Point } from "./point.ts";

/** Of the differences, in cells. */
const DIFFERENCE = 0.01;
const ROUNDS = 20;
const FIRST_RADIUS = 0.5;
const LAST_RADIUS = 0.004;

/** Limits and ln J about a point: value and slope per cell. */
interface LinearModel {
	readonly limits: readonly number[];
	readonly costs: readonly number[];
	/** By direction. */
	readonly limitSlopes: readonly (readonly number[])[];
	readonly costSlopes: readonly (readonly number[])[];
}

/**
 * Climbs into the corner where several limits meet: sequential linear programming with a trust region (Griffith and Stewart,
 * Management Science 7, 1961; from memory). J and every limit of the deciding corners are linearised by differences; the best
 * step of that model is looked for by boxes, then judged in full. A step that curved limits refuse is worked out once more
 * with the limits shifted by what the model was wrong by.
 */
export function polish(judge: Judge, start: Point, startValue: number): { point: Point; value: number } {
	let point = start;
	let value = startValue;
	let radius = FIRST_RADIUS;
	for (let round = 0; round < ROUNDS && radius > LAST_RADIUS; round++) {
		const corners = judge.decidingCorners();
		const model = linearise(judge, point, corners);
		if (model === null) break;
		const free = freedom(judge.problem);
		let shift = model.limits.map(() => 0);
		let better = false;
		for (let attempt = 0; attempt < 3 && !better; attempt++) {
			const step = bestStep(model, shift, radius, free);
			const next = moved(point, step);
			const found = judge.objective(gainsAt(judge.problem, next), value);
			if (found < value * (1 - 1e-5)) {
				better = true;
				point = next;
				value = found;
				break;
			}
			const there = judge.measure(gainsAt(judge.problem, next), corners);
			if (there === null) break;
			shift = there.limits.map((v, i) =>
				Math.max(shift[i]!, v - predicted(model.limits[i]!, model.limitSlopes, i, step)),
			);
		}
		radius *= better ? 1.5 : 0.5;
	}
	return { point, value };
}

function linearise(judge: Judge, point: Point, corners: MeasuredCorners): LinearModel | null {
	const { problem } = judge;
	const here = judge.measure(gainsAt(problem, point), corners);
	if (here === null) return null;
	const limitSlopes: number[][] = [];
	const costSlopes: number[][] = [];
	for (const [i, free] of freedom(problem).entries()) {
		if (!free) {
			limitSlopes.push(here.limits.map(() => 0));
			costSlopes.push(here.costs.map(() => 0));
			continue;
		}
		const step = [0, 0, 0, 0];
		step[i] = DIFFERENCE;
		const there = judge.measure(gainsAt(problem, moved(point, step)), corners);
		if (there === null) return null;
		limitSlopes.push(there.limits.map((v, k) => (v - here.limits[k]!) / DIFFERENCE));
		costSlopes.push(there.costs.map((v, k) => (v - here.costs[k]!) / DIFFERENCE));
	}
	// Limits far away cannot stop a step.
	const near = here.limits.map((v) => v > -NEAR);
	return {
		limits: here.limits.map((v, i) => (near[i] ? v : -9)),
		costs: here.costs,
		limitSlopes,
		costSlopes,
	};
}

const NEAR = 0.5;

const predicted = (
	value: number,
	slopes: readonly (readonly number[])[],
	i: number,
	step: readonly number[],
): number =>
	value +
	slopes[0]![i]! * step[0]! +
	slopes[1]![i]! * step[1]! +
	slopes[2]![i]! * step[2]! +
	slopes[3]![i]! * step[3]!;

/** The step within the radius (cells) that the model likes best, every limit kept in the model. */
function bestStep(
	model: LinearModel,
	shift: readonly number[],
	radius: number,
	free: readonly boolean[],
): readonly number[] {
	const rows: number[] = [];
	for (let i = 0; i < model.limits.length; i++) if (model.limits[i]! > -NEAR) rows.push(i);
	const value = (s: Point): number => {
		for (let k = 0; k < 4; k++) if (Math.abs(s[k]!) > radius) return Infinity;
		// A limit missed in the model weighs more than any J: the search first comes inside, then goes down.
		let missed = 0;
		for (const i of rows)
			missed = Math.max(missed, predicted(model.limits[i]!, model.limitSlopes, i, s) + shift[i]!);
		if (missed > 1e-6) return 100 + missed;
		let cost = -Infinity;
		for (let i = 0; i < model.costs.length; i++)
			cost = Math.max(cost, predicted(model.costs[i]!, model.costSlopes, i, s));
		return cost;
	};
	const zero: Point = [0, 0, 0, 0];
	return boxSearch(zero, value(zero), value, {
		first: radius,
		last: radius * 1e-3,
		pointsPerBox: 80,
		free,
		plain: true,
	}).point;
}
