import type { LinearTick } from "../control/axis-linear.ts";

export interface LiftedPlant {
	readonly order: number;
	/** Inputs, one per axis. */
	readonly inputs: number;
	readonly a: Float64Array;
	readonly b: Float64Array;
	/** Per axis gyro row, then per axis angle row. */
	readonly rates: readonly Float64Array[];
	readonly angles: readonly Float64Array[];
}

export interface Flow {
	readonly phi: Float64Array;
	readonly gamma: Float64Array;
}

/** First row of each quantity of one axis; queues hold what is under way, oldest first, and have room for one more. */
export interface AxisRows {
	readonly control: number;
	readonly controlOrder: number;
	readonly rate: number;
	readonly angle: number;
	readonly published: number;
	readonly applied: number;
	readonly rateQueue: Queue;
	readonly angleQueue: Queue;
	readonly computeQueue: Queue;
	readonly pipe: Queue;
}

export interface Queue {
	/** Rows of the state: what is under way at the hyperperiod's start. */
	readonly first: number;
	readonly initial: number;
}

type QueueName = "rateQueue" | "angleQueue" | "computeQueue" | "pipe";

/** Carries every quantity of a closed loop, as a row over the state at the start, from event to event. */
export interface Run {
	flow(flow: Flow): void;
	sample(axis: number, what: "rate" | "angle"): void;
	arrive(axis: number, queue: QueueName, to: number): void;
	push(axis: number, queue: QueueName, from: number): void;
	tick(axis: number, tick: LinearTick, uFactor: number, angleFactor: number): void;
	finish(): Float64Array;
}

/** Rows to work in, kept from one call to the next: a hyperperiod would otherwise make tens of thousands. */
interface RowPool {
	readonly size: number;
	/** A row of zeros. */
	take(): Float64Array;
	give(row: Float64Array): void;
}

const pools = new Map<number, RowPool>();

function rowPool(size: number): RowPool {
	let pool = pools.get(size);
	if (!pool) {
		const free: Float64Array[] = [];
		pool = {
			size,
			take: () => free.pop()?.fill(0) ?? new Float64Array(size),
			give: (row) => {
				free.push(row);
			},
		};
		pools.set(size, pool);
	}
	return pool;
}

function addTo(sum: Float64Array, factor: number, row: Float64Array): void {
	if (factor === 0) return;
	for (let j = 0; j < sum.length; j++) sum[j]! += factor * row[j]!;
}

export function createRun(plant: LiftedPlant, rows: readonly AxisRows[], size: number): Run {
	const { order: n, inputs: m } = plant;
	const pool = rowPool(size);
	const unit = (i: number): Float64Array => {
		const row = pool.take();
		row[i] = 1;
		return row;
	};
	/** Every quantity as a row over the state at the start; what is under way stands in the queues. */
	const state = Array.from({ length: size }, (_, i) => unit(i));
	const next = new Array<Float64Array>(n);
	const queues = rows.map((row) => {
		const fill = (queue: Queue): Float64Array[] =>
			Array.from({ length: queue.initial }, (_, i) => unit(queue.first + i));
		return {
			rateQueue: fill(row.rateQueue),
			angleQueue: fill(row.angleQueue),
			computeQueue: fill(row.computeQueue),
			pipe: fill(row.pipe),
		};
	});
	const replace = (at: number, row: Float64Array): void => {
		pool.give(state[at]!);
		state[at] = row;
	};
	return {
		flow({ phi, gamma }) {
			for (let i = 0; i < n; i++) {
				const sum = pool.take();
				for (let j = 0; j < n; j++) addTo(sum, phi[i * n + j]!, state[j]!);
				for (let k = 0; k < m; k++) addTo(sum, gamma[i * m + k]!, state[rows[k]!.applied]!);
				next[i] = sum;
			}
			for (let i = 0; i < n; i++) replace(i, next[i]!);
		},
		sample(axis, what) {
			const weights = what === "rate" ? plant.rates[axis]! : plant.angles[axis]!;
			const reading = pool.take();
			for (let i = 0; i < n; i++) addTo(reading, weights[i]!, state[i]!);
			queues[axis]![what === "rate" ? "rateQueue" : "angleQueue"].push(reading);
		},
		arrive(axis, queue, to) {
			replace(to, queues[axis]![queue].shift()!);
		},
		push(axis, queue, from) {
			const copy = pool.take();
			copy.set(state[from]!);
			queues[axis]![queue].push(copy);
		},
		tick(axis, { order, a, b, c, d }, uFactor, angleFactor) {
			const row = rows[axis]!;
			const angle = state[row.angle]!;
			const rate = state[row.rate]!;
			const u = pool.take();
			const after: Float64Array[] = [];
			for (let i = 0; i < order; i++) {
				const sum = pool.take();
				for (let j = 0; j < order; j++) addTo(sum, a[i * order + j]!, state[row.control + j]!);
				addTo(sum, angleFactor * b[i * 4 + 1]!, angle);
				addTo(sum, b[i * 4 + 3]!, rate);
				after.push(sum);
				addTo(u, uFactor * c[i]!, state[row.control + i]!);
			}
			addTo(u, uFactor * angleFactor * d[1]!, angle);
			addTo(u, uFactor * d[3]!, rate);
			for (let i = 0; i < order; i++) replace(row.control + i, after[i]!);
			queues[axis]!.computeQueue.push(u);
		},
		finish() {
			rows.forEach((row, k) => {
				for (const name of ["rateQueue", "angleQueue", "computeQueue", "pipe"] as const) {
					const queue = queues[k]![name];
					if (queue.length !== row[name].initial)
						throw new Error(`lifted: ${queue.length} left in ${name}, expected ${row[name].initial}`);
					queue.forEach((entry, i) => {
						replace(row[name].first + i, entry);
					});
				}
			});
			const map = new Float64Array(size * size);
			state.forEach((row, i) => {
				map.set(row, i * size);
				pool.give(row);
			});
			return map;
		},
	};
}
