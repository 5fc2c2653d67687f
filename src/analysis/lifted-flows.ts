import { expm } from "../math/expm.ts";
import { norm1 } from "../math/matrix.ts";

/** x' = A x + B u with one input per axis. */
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

/** The plant's answers over times in microseconds, each worked out once. */
export interface Flows {
	/** e^(A t), order x order. */
	transition(us: number): Float64Array;
	/** Integral of e^(A s) b over s from 0 to t, b the column of one axis: order. */
	push(axis: number, us: number): Float64Array;
}

/** Up to this norm of A t the plain series loses less than two digits. */
const SERIES_NORM = 4;
const MOST_KEPT = 20_000;

export function createFlows({ order: n, inputs: m, a, b }: LiftedPlant): Flows {
	const norm = norm1(a, n);
	const transitions = new Map<number, Float64Array>();
	const pushes = Array.from({ length: m }, () => new Map<number, Float64Array>());
	const columns = pushes.map((_, k) => Float64Array.from({ length: n }, (__, i) => b[i * m + k]!));
	return {
		transition: (us) =>
			kept(transitions, us, () =>
				expm(
					a.map((v) => v * us * 1e-6),
					n,
				),
			),
		push: (axis, us) =>
			kept(pushes[axis]!, us, () => {
				const t = us * 1e-6;
				return norm * t <= SERIES_NORM
					? pushBySeries(a, columns[axis]!, n, t)
					: pushByBlock(a, columns[axis]!, n, t);
			}),
	};
}

/** Times are told apart to a millionth of a microsecond. */
function kept(known: Map<number, Float64Array>, us: number, make: () => Float64Array): Float64Array {
	const key = Math.round(us * 1e6);
	let found = known.get(key);
	if (!found) {
		if (known.size > MOST_KEPT) known.clear();
		found = make();
		known.set(key, found);
	}
	return found;
}

/** t sum over k of (A t)^k b / (k + 1)! */
function pushBySeries(a: Float64Array, column: Float64Array, n: number, t: number): Float64Array {
	let term = column.map((v) => v * t);
	let next = new Float64Array(n);
	const sum = term.slice();
	for (let k = 2; k < 60; k++) {
		let largest = 0;
		let whole = 0;
		for (let i = 0; i < n; i++) {
			let s = 0;
			for (let j = 0; j < n; j++) s += a[i * n + j]! * term[j]!;
			s *= t / k;
			next[i] = s;
			sum[i]! += s;
			largest = Math.max(largest, Math.abs(s));
			whole = Math.max(whole, Math.abs(sum[i]!));
		}
		if (largest <= 1e-19 * whole) break;
		[term, next] = [next, term];
	}
	return sum;
}

/** Upper right of e^([A b; 0 0] t) (C. F. Van Loan, IEEE Trans. Automatic Control 23(3), 1978). */
function pushByBlock(a: Float64Array, column: Float64Array, n: number, t: number): Float64Array {
	const size = n + 1;
	const block = new Float64Array(size * size);
	for (let i = 0; i < n; i++) {
		for (let j = 0; j < n; j++) block[i * size + j] = a[i * n + j]! * t;
		block[i * size + n] = column[i]! * t;
	}
	const e = expm(block, size);
	return Float64Array.from({ length: n }, (_, i) => e[i * size + n]!);
}
