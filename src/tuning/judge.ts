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
import { limitStates, violation } from "./violation.ts";

export interface MeasuredCorners {
	readonly limits: readonly CornerTable[];
	readonly costs: readonly CornerTable[];
}

const MOST_MEASURED = 12;

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

	/**
	 * Every limit (relative, above 0: missed) in the corners that have made a candidate fall, and J in those that have been
	 * worst; null where one of them is unstable. The order is that of this judge's lists.
	 */
	measure(gains: Gains4, corners: MeasuredCorners): { limits: number[]; costs: number[] } | null {
		const limits: number[] = [];
		const asked = { share: askedShare(this.problem, gains) };
		for (const table of corners.limits) {
			this.counters.frequencyTests++;
			if (!testLoop(table, gains, null, this.#test)) return null;
			for (const state of limitStates(this.#test, table, gains, this.problem.limits, asked))
				limits.push(Math.max(-9, Math.min(9, state.missed)));
		}
		const costs: number[] = [];
		for (const table of corners.costs) {
			this.counters.stepTests++;
			costs.push(Math.log(cornerCost(this.problem, table, gains).objective));
		}
		return { limits, costs };
	}

	/** The corners that `measure` should look at now. */
	decidingCorners(): MeasuredCorners {
		return { limits: this.#byTest.slice(0, Math.min(MOST_MEASURED, this.#fallen)), costs: [...this.#worst] };
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
