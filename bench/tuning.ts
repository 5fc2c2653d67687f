import { readdirSync, readFileSync } from "node:fs";
import { AXES, type AxisName } from "../src/control/spec.ts";
import type { Craft } from "../src/craft/model.ts";
import { loadScenario } from "../src/scenario/load.ts";
import { type Character, limitsOf } from "../src/tuning/characters.ts";
import { axisProblemOf, craftModel } from "../src/tuning/craft-problem.ts";
import { Judge } from "../src/tuning/judge.ts";
import { gainsAt, type Point } from "../src/tuning/point.ts";
import type { AxisSearchProblem } from "../src/tuning/problem.ts";
import { searchAxis } from "../src/tuning/search.ts";
import { tune } from "../src/tuning/tune.ts";

/** The craft of every shipped scenario. */
export function shippedCraft(): Craft[] {
	const folder = new URL("../scenarios/", import.meta.url);
	return readdirSync(folder)
		.filter((name) => name.endsWith(".json"))
		.map((name) => {
			const loaded = loadScenario(readFileSync(new URL(name, folder), "utf8"));
			if (!loaded.ok) throw new Error(`${name}: ${loaded.errors[0]?.message}`);
			return loaded.scenario.craft;
		});
}

/** Processor time of one full `tune` of three axes, without the alternatives. */
export function benchTune(
	craft: Craft,
	character: Character,
): { readonly processorSeconds: number; readonly feasible: boolean } {
	const start = process.cpuUsage();
	const { feasible } = tune(craft, { character, alternatives: false });
	return { processorSeconds: process.cpuUsage(start).user / 1e6, feasible };
}

interface BruteComparison {
	readonly axis: AxisName;
	readonly tuned: number;
	readonly brute: number;
	/** tuned over brute less 1; negative: the search beat the grid. */
	readonly excess: number;
	readonly cells: number;
	readonly refinements: number;
}

/**
 * The search against a brute-force one under the same constraints and objective: a full grid over the whole box, then grids about
 * its best cell, each half as wide, until two in a row move the optimum by less than 0.2 %.
 */
export function compareWithBrute(
	craft: Craft,
	character: Character,
	axes: readonly AxisName[] = AXES,
): BruteComparison[] {
	const model = craftModel(craft);
	return axes.map((axis) => {
		const problem = axisProblemOf(model, axis, {
			limits: limitsOf(character),
			filters: [],
			yawDerivative: false,
		});
		const tuned = searchAxis(new Judge(problem)).value;
		const { value, cells, refinements } = brute(problem);
		return { axis, tuned, brute: value, excess: tuned / value - 1, cells, refinements };
	});
}

/** ln(k_angle/w), ln(kp/unit), ln(ki/(kp w)), kd w/kp. */
const BOX: readonly (readonly [number, number])[] = [
	[Math.log(0.01), Math.log(1)],
	[Math.log(0.02), Math.log(3)],
	[Math.log(0.004), Math.log(0.6)],
	[0, 1.5],
];
const FIRST_GRID = [21, 25, 17, 11];
const NEXT_GRID = 9;
const SETTLED = 0.002;

function brute(problem: AxisSearchProblem): { value: number; cells: number; refinements: number } {
	const judge = new Judge(problem);
	const free = [problem.axis !== "yaw", true, true, problem.usesDerivative];
	let low = BOX.map(([a], i) => (free[i] ? a : 0));
	let high = BOX.map(([, b], i) => (free[i] ? b : 0));
	let counts = FIRST_GRID.map((n, i) => (free[i] ? n : 1));
	let best: { point: Point; value: number } = { point: [0, 0, 0, 0], value: Infinity };
	let cells = 0;
	let quiet = 0;
	let refinements = 0;
	for (; refinements < 24 && quiet < 2; refinements++) {
		const before = best.value;
		const at = (i: number, k: number): number =>
			counts[i] === 1 ? low[i]! : low[i]! + (k / (counts[i]! - 1)) * (high[i]! - low[i]!);
		for (let a = 0; a < counts[0]!; a++)
			for (let b = 0; b < counts[1]!; b++)
				for (let c = 0; c < counts[2]!; c++)
					for (let d = 0; d < counts[3]!; d++) {
						const point: Point = [at(0, a), at(1, b), at(2, c), Math.max(0, at(3, d))];
						cells++;
						const gains = gainsAt(problem, point);
						if (!Number.isFinite(judge.objective(gains, best.value))) continue;
						const value = judge.fullCost(gains);
						if (value < best.value) best = { point, value };
					}
		quiet = before - best.value < SETTLED * best.value ? quiet + 1 : 0;
		// About the best cell, two of its widths to either side at first, then half as wide each time.
		const width = low.map(
			(v, i) => ((high[i]! - v) / Math.max(1, counts[i]! - 1)) * (refinements === 0 ? 2 : 1.0),
		);
		const span = refinements === 0 ? width : low.map((v, i) => (high[i]! - v) / 4);
		low = best.point.map((v, i) => (free[i] ? v - span[i]! : 0));
		high = best.point.map((v, i) => (free[i] ? v + span[i]! : 0));
		counts = free.map((f) => (f ? NEXT_GRID : 1));
	}
	return { value: best.value, cells, refinements };
}
