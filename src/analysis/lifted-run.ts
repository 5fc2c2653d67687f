import type { LinearTick } from "../control/axis-linear.ts";
import type { Flows, LiftedPlant } from "./lifted-flows.ts";
import type { Program } from "./lifted-program.ts";

/** One axis's control law and how it is changed. */
export interface RunAxis {
	readonly controlOrder: number;
	tick(spacingUs: number): LinearTick;
}

export interface RunFactors {
	readonly u: number;
	readonly angle: number;
}

/** A program with the plant's numbers in it; a change of gain runs it again as it is. */
export interface LiftedRun {
	readonly size: number;
	/** Map over one hyperperiod, size x size, row by row. */
	map(factors: readonly RunFactors[]): Float64Array;
}

type Step =
	| { readonly kind: "flow"; readonly weights: readonly Float64Array[]; readonly inputs: Int32Array }
	| { readonly kind: "sample"; readonly weights: Float64Array; readonly register: number }
	| {
			readonly kind: "tick";
			readonly axis: number;
			readonly law: LinearTick;
			readonly rate: number;
			readonly angle: number;
			readonly command: number;
	  };

/**
 * Every quantity is a row over the state at the start; a step makes rows as sums of rows. Rows: plant, controllers, registers,
 * room for the new plant or controller.
 */
export function createLiftedRun(
	plant: LiftedPlant,
	flows: Flows,
	axes: readonly RunAxis[],
	program: Program,
): LiftedRun {
	const n = plant.order;
	const control = axes.map((_, k) => n + axes.slice(0, k).reduce((sum, axis) => sum + axis.controlOrder, 0));
	const registers = axes.reduce((sum, axis) => sum + axis.controlOrder, n);
	const room = registers + program.registers;
	const size = registers + program.carried.length;
	const steps = program.steps.map((step): Step => {
		if (step.kind === "flow") return flowStep(plant, flows, step, registers);
		if (step.kind === "sample") {
			const weights = step.what === "rate" ? plant.rates[step.axis]! : plant.angles[step.axis]!;
			return { kind: "sample", weights, register: registers + step.register };
		}
		const at = (register: number): number => (register < 0 ? -1 : registers + register);
		return {
			kind: "tick",
			axis: step.axis,
			law: axes[step.axis]!.tick(step.spacingUs),
			rate: at(step.rate),
			angle: at(step.angle),
			command: at(step.command),
		};
	});
	const rows = room + Math.max(n, ...axes.map((axis) => axis.controlOrder));
	return {
		size,
		map(factors) {
			const s = new Float64Array(rows * size);
			for (let i = 0; i < size; i++) s[i * size + i] = 1;
			const sum = createSum(s, size);
			for (const step of steps) {
				if (step.kind === "flow") {
					for (let i = 0; i < n; i++) {
						const weights = step.weights[i]!;
						for (let j = 0; j < n; j++) sum.add(weights[j]!, j);
						for (let j = n; j < weights.length; j++) sum.add(weights[j]!, step.inputs[j - n]!);
						sum.into(room + i);
					}
					s.copyWithin(0, room * size, (room + n) * size);
				} else if (step.kind === "sample") {
					for (let j = 0; j < n; j++) sum.add(step.weights[j]!, j);
					sum.into(step.register);
				} else tick(sum, s, size, step, control[step.axis]!, room, factors[step.axis]!);
			}
			const out = s.slice(0, size * size);
			for (const { start, end } of program.carried) {
				const from = (registers + end) * size;
				out.set(s.subarray(from, from + size), (registers + start) * size);
			}
			return out;
		},
	};
}

/** Per plant row: weights of the plant's rows, then of the commands in effect. */
function flowStep(
	plant: LiftedPlant,
	flows: Flows,
	step: Extract<Program["steps"][number], { kind: "flow" }>,
	registers: number,
): Step {
	const n = plant.order;
	const phi = flows.transition(step.lengthUs);
	const pushes = step.spans.map(({ axis, fromUs, toUs }) => {
		const whole = flows.push(axis, fromUs);
		if (toUs < 1e-6) return whole;
		const after = flows.push(axis, toUs);
		return whole.map((v, i) => v - after[i]!);
	});
	const weights = Array.from({ length: n }, (_, i) => {
		const row = new Float64Array(n + pushes.length);
		row.set(phi.subarray(i * n, (i + 1) * n));
		pushes.forEach((push, j) => {
			row[n + j] = push[i]!;
		});
		return row;
	});
	return { kind: "flow", weights, inputs: Int32Array.from(step.spans, (span) => registers + span.register) };
}

function tick(
	sum: RowSum,
	s: Float64Array,
	size: number,
	{ law, rate, angle, command }: Extract<Step, { kind: "tick" }>,
	control: number,
	room: number,
	factors: RunFactors,
): void {
	const { order, a, b, c, d } = law;
	const angleFactor = angle < 0 ? 0 : factors.angle;
	for (let i = 0; i < order; i++) {
		for (let j = 0; j < order; j++) sum.add(a[i * order + j]!, control + j);
		sum.add(angleFactor * b[i * 4 + 1]!, angle);
		sum.add(b[i * 4 + 3]!, rate);
		sum.into(room + i);
	}
	if (command >= 0) {
		for (let j = 0; j < order; j++) sum.add(factors.u * c[j]!, control + j);
		sum.add(factors.u * angleFactor * d[1]!, angle);
		sum.add(factors.u * d[3]!, rate);
		sum.into(command);
	}
	s.copyWithin(control * size, room * size, (room + order) * size);
}

interface RowSum {
	/** Nothing for a weight of 0. */
	add(weight: number, row: number): void;
	/** Writes what was added to a row that is none of those, and begins anew. */
	into(row: number): void;
}

/** Weighted sums of rows, four rows at a time. */
function createSum(s: Float64Array, size: number): RowSum {
	const weights = new Float64Array(256);
	const rows = new Int32Array(256);
	let count = 0;
	return {
		add(weight, row) {
			if (weight === 0) return;
			weights[count] = weight;
			rows[count++] = row * size;
		},
		into(row) {
			addUp(s, size, row * size, weights, rows, count);
			count = 0;
		},
	};
}

function addUp(
	s: Float64Array,
	size: number,
	to: number,
	weights: Float64Array,
	rows: Int32Array,
	count: number,
): void {
	let k = count % 4;
	if (k === 0) s.fill(0, to, to + size);
	else {
		const [w0, w1, w2] = [weights[0]!, k > 1 ? weights[1]! : 0, k > 2 ? weights[2]! : 0];
		const [r0, r1, r2] = [rows[0]!, k > 1 ? rows[1]! : rows[0]!, k > 2 ? rows[2]! : rows[0]!];
		for (let j = 0; j < size; j++) s[to + j] = w0 * s[r0 + j]! + w1 * s[r1 + j]! + w2 * s[r2 + j]!;
	}
	for (; k < count; k += 4) {
		const w0 = weights[k]!;
		const w1 = weights[k + 1]!;
		const w2 = weights[k + 2]!;
		const w3 = weights[k + 3]!;
		const r0 = rows[k]!;
		const r1 = rows[k + 1]!;
		const r2 = rows[k + 2]!;
		const r3 = rows[k + 3]!;
		for (let j = 0; j < size; j++)
			s[to + j]! += w0 * s[r0 + j]! + w1 * s[r1 + j]! + w2 * s[r2 + j]! + w3 * s[r3 + j]!;
	}
}
