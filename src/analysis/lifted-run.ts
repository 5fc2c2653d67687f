import type { LinearTick } from "../control/axis-linear.ts";
import type { Flows, LiftedPlant } from "./lifted-flows.ts";
import type { Program, ProgramStep } from "./lifted-program.ts";

/** One axis's control law. */
export interface RunAxis {
	readonly controlOrder: number;
	tick(spacingUs: number): LinearTick;
}

/** How it is changed. */
interface RunFactors {
	readonly u: number;
	readonly angle: number;
}

/** A program with the plant's numbers in it; other gains or factors run it again as it is. */
export interface LiftedRun {
	readonly size: number;
	/** Map over one hyperperiod, size x size, row by row; `laws` of the orders that the run was made for. */
	map(laws: readonly RunAxis[], factors: readonly RunFactors[]): Float64Array;
}

/** New rows as weighted sums of rows: sum i takes entries from[i] up to from[i + 1] of weights and places (rows times size). */
interface Sums {
	readonly from: Int32Array;
	readonly weights: Float64Array;
	readonly places: Int32Array;
}

type Step =
	| { readonly kind: "flow"; readonly sums: Sums }
	| { readonly kind: "sample"; readonly sums: Sums; readonly register: number }
	| Extract<ProgramStep, { readonly kind: "tick" }>;

/**
 * Every quantity is a row over the state at the start; a step makes rows as sums of rows. Rows: plant, controllers, registers,
 * room for the new plant or controller.
 */
export function createLiftedRun(
	plant: LiftedPlant,
	flows: Flows,
	controlOrders: readonly number[],
	program: Program,
): LiftedRun {
	const n = plant.order;
	const control = controlOrders.map((_, k) => controlOrders.slice(0, k).reduce((sum, each) => sum + each, n));
	const registers = controlOrders.reduce((sum, each) => sum + each, n);
	const room = registers + program.registers;
	const size = registers + program.carried.length;
	const list = createSumList();
	const steps = program.steps.map((step): Step => {
		if (step.kind === "flow")
			return { kind: "flow", sums: flowSums(plant, flows, step, registers, size, list) };
		if (step.kind === "sample") {
			const weights = step.what === "rate" ? plant.rates[step.axis]! : plant.angles[step.axis]!;
			for (let j = 0; j < n; j++) list.add(weights[j]!, j * size);
			list.next();
			return { kind: "sample", sums: list.take(), register: registers + step.register };
		}
		const at = (register: number): number => (register < 0 ? -1 : registers + register);
		return {
			kind: "tick",
			axis: step.axis,
			spacingUs: step.spacingUs,
			rate: at(step.rate),
			angle: at(step.angle),
			command: at(step.command),
		};
	});
	const rows = room + Math.max(n, ...controlOrders);
	return {
		size,
		map(laws, factors) {
			const s = new Float64Array(rows * size);
			for (let i = 0; i < size; i++) s[i * size + i] = 1;
			const sum = createSum(s, size);
			for (const step of steps) {
				if (step.kind === "flow") {
					for (let i = 0; i < n; i++) addUp(s, size, (room + i) * size, step.sums, i);
					s.copyWithin(0, room * size, (room + n) * size);
				} else if (step.kind === "sample") addUp(s, size, step.register * size, step.sums, 0);
				else {
					const { axis, spacingUs } = step;
					tick(sum, s, size, step, laws[axis]!.tick(spacingUs), control[axis]!, room, factors[axis]!);
				}
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

/** The plant's rows after a flow: of its rows before it and of the commands in effect. */
function flowSums(
	{ order: n }: LiftedPlant,
	flows: Flows,
	{ lengthUs, spans }: Extract<Program["steps"][number], { kind: "flow" }>,
	registers: number,
	size: number,
	list: SumList,
): Sums {
	const phi = flows.transition(lengthUs);
	const pushes = spans.map(({ axis, fromUs, toUs }) => ({
		whole: flows.push(axis, fromUs),
		after: toUs > 1e-6 ? flows.push(axis, toUs) : null,
	}));
	for (let i = 0; i < n; i++) {
		for (let j = 0; j < n; j++) list.add(phi[i * n + j]!, j * size);
		for (let k = 0; k < pushes.length; k++) {
			const { whole, after } = pushes[k]!;
			list.add(whole[i]! - (after ? after[i]! : 0), (registers + spans[k]!.register) * size);
		}
		list.next();
	}
	return list.take();
}

function tick(
	sum: RowSum,
	s: Float64Array,
	size: number,
	{ rate, angle, command }: Extract<Step, { kind: "tick" }>,
	{ order, a, b, c, d }: LinearTick,
	control: number,
	room: number,
	factors: RunFactors,
): void {
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

interface SumList {
	/** Nothing for a weight of 0. */
	add(weight: number, place: number): void;
	next(): void;
	/** All sums so far; begins anew. */
	take(): Sums;
}

function createSumList(): SumList {
	let weights = new Float64Array(1024);
	let places = new Int32Array(1024);
	let count = 0;
	let from = [0];
	return {
		add(weight, place) {
			if (weight === 0) return;
			if (count === weights.length) {
				const [w, p] = [weights, places];
				weights = new Float64Array(2 * count);
				places = new Int32Array(2 * count);
				weights.set(w);
				places.set(p);
			}
			weights[count] = weight;
			places[count++] = place;
		},
		next() {
			from.push(count);
		},
		take() {
			const sums = {
				from: Int32Array.from(from),
				weights: weights.slice(0, count),
				places: places.slice(0, count),
			};
			count = 0;
			from = [0];
			return sums;
		},
	};
}

interface RowSum {
	/** Nothing for a weight of 0. */
	add(weight: number, row: number): void;
	/** Writes what was added to a row that is none of those, and begins anew. */
	into(row: number): void;
}

function createSum(s: Float64Array, size: number): RowSum {
	const sums: Sums = { from: new Int32Array(2), weights: new Float64Array(256), places: new Int32Array(256) };
	let count = 0;
	return {
		add(weight, row) {
			if (weight === 0) return;
			sums.weights[count] = weight;
			sums.places[count++] = row * size;
		},
		into(row) {
			sums.from[1] = count;
			addUp(s, size, row * size, sums, 0);
			count = 0;
		},
	};
}

/** One weighted sum of rows, four rows at a time. */
function addUp(s: Float64Array, size: number, to: number, { from, weights, places }: Sums, i: number): void {
	let k = from[i]!;
	const end = from[i + 1]!;
	const odd = (end - k) % 4;
	if (odd === 0) for (let j = 0; j < size; j++) s[to + j] = 0;
	else if (odd === 1) {
		const [w0, r0] = [weights[k]!, places[k]!];
		for (let j = 0; j < size; j++) s[to + j] = w0 * s[r0 + j]!;
	} else {
		const [w0, w1, w2] = [weights[k]!, weights[k + 1]!, odd > 2 ? weights[k + 2]! : 0];
		const [r0, r1, r2] = [places[k]!, places[k + 1]!, odd > 2 ? places[k + 2]! : places[k]!];
		for (let j = 0; j < size; j++) s[to + j] = w0 * s[r0 + j]! + w1 * s[r1 + j]! + w2 * s[r2 + j]!;
	}
	for (k += odd; k < end; k += 4) {
		const w0 = weights[k]!;
		const w1 = weights[k + 1]!;
		const w2 = weights[k + 2]!;
		const w3 = weights[k + 3]!;
		const r0 = places[k]!;
		const r1 = places[k + 1]!;
		const r2 = places[k + 2]!;
		const r3 = places[k + 3]!;
		for (let j = 0; j < size; j++)
			s[to + j]! += w0 * s[r0 + j]! + w1 * s[r1 + j]! + w2 * s[r2 + j]! + w3 * s[r3 + j]!;
	}
}
