/**
 * x' = A x + B u (continuous) or x+ = A x + B u (sampled), y = C x + D u. Row-major: a n x n, b n x inputs,
 * c outputs x n, d outputs x inputs.
 */
export interface StateSpace<T extends TimeBase = TimeBase> {
	readonly timeBase: T;
	readonly order: number;
	readonly inputs: number;
	readonly outputs: number;
	readonly a: Float64Array;
	readonly b: Float64Array;
	readonly c: Float64Array;
	readonly d: Float64Array;
}

export interface Continuous {
	readonly kind: "continuous";
}
export interface Sampled {
	readonly kind: "sampled";
	readonly periodSec: number;
}
export type TimeBase = Continuous | Sampled;

export const CONTINUOUS: Continuous = { kind: "continuous" };

/** @throws RangeError when the period is not a positive number. */
export function sampled(periodSec: number): Sampled {
	if (!(periodSec > 0 && Number.isFinite(periodSec)))
		throw new RangeError(`sampled: period ${periodSec} s, expected a positive number`);
	return { kind: "sampled", periodSec };
}

/** Checks shapes and finiteness; matrices may be given as rows.
 * @throws RangeError naming the matrix, its size and what was expected. */
export function stateSpace<T extends TimeBase>(
	timeBase: T,
	matrices: {
		a: readonly (readonly number[])[] | Float64Array;
		b: readonly (readonly number[])[] | Float64Array;
		c: readonly (readonly number[])[] | Float64Array;
		d?: readonly (readonly number[])[] | Float64Array;
	},
	sizes: { order?: number; inputs?: number; outputs?: number } = {},
): StateSpace<T> {
	const flat = (m: readonly (readonly number[])[] | Float64Array): Float64Array =>
		m instanceof Float64Array ? m : Float64Array.from(m.flat());
	const { a, b, c, d } = matrices;
	const order = sizes.order ?? (a instanceof Float64Array ? Math.round(Math.sqrt(a.length)) : a.length);
	const inputs =
		sizes.inputs ?? (b instanceof Float64Array ? b.length / Math.max(order, 1) : (b[0]?.length ?? 1));
	const outputs = sizes.outputs ?? (c instanceof Float64Array ? c.length / Math.max(order, 1) : c.length);
	const result = {
		timeBase,
		order,
		inputs,
		outputs,
		a: flat(a),
		b: flat(b),
		c: flat(c),
		d: d === undefined ? new Float64Array(outputs * inputs) : flat(d),
	};
	const check = (name: "a" | "b" | "c" | "d", rows: number, columns: number): void => {
		if (result[name].length !== rows * columns)
			throw new RangeError(
				`stateSpace: ${name} has ${result[name].length} entries, expected ${rows} x ${columns}`,
			);
		const bad = result[name].find((v) => !Number.isFinite(v));
		if (bad !== undefined) throw new RangeError(`stateSpace: ${name} holds ${bad}, expected finite numbers`);
	};
	check("a", order, order);
	check("b", order, inputs);
	check("c", outputs, order);
	check("d", outputs, inputs);
	return result;
}
