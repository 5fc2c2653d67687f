import { multiply, solve } from "../math/matrix.ts";
import { type StateSpace, stateSpace, type TimeBase } from "./state-space.ts";

/** u -> first -> second -> y. States of first, then of second. */
export function series<T extends TimeBase>(first: StateSpace<T>, second: StateSpace<T>): StateSpace<T> {
	checkTimeBase("series", first.timeBase, second.timeBase);
	if (first.outputs !== second.inputs)
		throw new RangeError(`series: ${first.outputs} outputs into ${second.inputs} inputs, expected as many`);
	const n1 = first.order;
	const n2 = second.order;
	const n = n1 + n2;
	const { inputs, outputs: between } = first;
	const a = new Float64Array(n * n);
	place(a, n, first.a, n1, n1, 0, 0);
	place(a, n, second.a, n2, n2, n1, n1);
	place(a, n, multiply(second.b, first.c, n2, between, n1), n2, n1, n1, 0);
	const b = new Float64Array(n * inputs);
	place(b, inputs, first.b, n1, inputs, 0, 0);
	place(b, inputs, multiply(second.b, first.d, n2, between, inputs), n2, inputs, n1, 0);
	const c = new Float64Array(second.outputs * n);
	place(c, n, multiply(second.d, first.c, second.outputs, between, n1), second.outputs, n1, 0, 0);
	place(c, n, second.c, second.outputs, n2, 0, n1);
	const d = multiply(second.d, first.d, second.outputs, between, inputs);
	return stateSpace(first.timeBase, { a, b, c, d }, { order: n, inputs, outputs: second.outputs });
}

/**
 * u = r - y around a square system: from r to y. Its A is A - B (I + D)^-1 C, whose eigenvalues decide stability.
 * @throws RangeError when I + D is singular (the loop is not well posed).
 */
export function closeLoop<T extends TimeBase>(open: StateSpace<T>): StateSpace<T> {
	const { order: n, inputs: m, outputs } = open;
	if (m !== outputs) throw new RangeError(`closeLoop: ${m} inputs and ${outputs} outputs, expected as many`);
	const oneD = open.d.map((v, i) => v + (i % (m + 1) === 0 ? 1 : 0));
	const c = solve(oneD, open.c, m, n);
	const d = solve(oneD, open.d, m, m);
	const bc = multiply(open.b, c, n, m, n);
	const bd = multiply(open.b, d, n, m, m);
	return stateSpace(
		open.timeBase,
		{ a: open.a.map((v, i) => v - bc[i]!), b: open.b.map((v, i) => v - bd[i]!), c, d },
		{ order: n, inputs: m, outputs: m },
	);
}

function place(
	into: Float64Array,
	columns: number,
	from: Float64Array,
	rows: number,
	wide: number,
	row: number,
	column: number,
): void {
	for (let r = 0; r < rows; r++)
		into.set(from.subarray(r * wide, (r + 1) * wide), (row + r) * columns + column);
}

function checkTimeBase(where: string, a: TimeBase, b: TimeBase): void {
	const alike =
		a.kind === "sampled" ? b.kind === "sampled" && a.periodSec === b.periodSec : b.kind === "continuous";
	if (!alike)
		throw new RangeError(`${where}: time bases ${JSON.stringify(a)} and ${JSON.stringify(b)}, expected one`);
}
