import type { Judge, MeasuredCorners } from "./judge.ts";
import { freedom, gainsAt, moved, type Point } from "./point.ts";
import { leastLinear } from "./small-program.ts";

/** Of the differences, in cells. */
const DIFFERENCE = 0.01;
const ROUNDS = 14;
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
 * step of that model is then judged in full. A step that curved limits refuse is worked out once more
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
		for (let attempt = 0; attempt < 4 && !better; attempt++) {
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

const NEAR = 0.25;

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

/** What missing a limit of the model costs against ln J: the way back inside comes first. */
const PENALTY = 100;
/** The model keeps this far from every limit, so that rounding does not refuse its step. */
const CLEARANCE = 1e-5;

/** The step within the radius (cells) that the model likes best: variables are the free directions, ln J, and what is missed. */
function bestStep(
	model: LinearModel,
	shift: readonly number[],
	radius: number,
	free: readonly boolean[],
): readonly number[] {
	const directions = free.flatMap((f, i) => (f ? [i] : []));
	const n = directions.length;
	const width = n + 2;
	const count = model.limits.length + model.costs.length + 2 * n + 1;
	const normals = new Float64Array(count * width);
	const bounds = new Float64Array(count);
	let row = 0;
	let missed = 0;
	for (let i = 0; i < model.limits.length; i++) {
		const here = model.limits[i]! + shift[i]!;
		if (here < -NEAR) continue;
		for (let k = 0; k < n; k++) normals[row * width + k] = model.limitSlopes[directions[k]!]![i]!;
		missed = Math.max(missed, here);
		normals[row * width + n + 1] = -1;
		bounds[row++] = -here - CLEARANCE;
	}
	const top = Math.max(...model.costs);
	for (let i = 0; i < model.costs.length; i++) {
		for (let k = 0; k < n; k++) normals[row * width + k] = model.costSlopes[directions[k]!]![i]!;
		normals[row * width + n] = -1;
		bounds[row++] = -model.costs[i]!;
	}
	for (let k = 0; k < n; k++)
		for (let side = -1; side <= 1; side += 2) {
			normals.fill(0, row * width, (row + 1) * width);
			normals[row * width + k] = side;
			bounds[row++] = radius;
		}
	normals.fill(0, row * width, (row + 1) * width);
	normals[row++ * width + n + 1] = -1;
	const c = new Float64Array(width);
	c[n] = 1;
	c[n + 1] = PENALTY;
	const start = new Float64Array(width);
	start[n] = top + 1;
	start[n + 1] = missed + 1;
	const rows = { normals: normals.subarray(0, row * width), bounds: bounds.subarray(0, row) };
	const found = leastLinear(c, rows, start);
	const step = [0, 0, 0, 0];
	directions.forEach((d, k) => {
		step[d] = found[k]!;
	});
	return step;
}
