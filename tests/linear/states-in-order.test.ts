import { expect, test } from "vitest";
import { statesInOrder } from "../../src/linear/states-in-order.ts";
import { createRandom } from "../../src/math/random.ts";

const matrix = (n: number, entries: readonly (readonly [number, number])[]): Float64Array => {
	const a = new Float64Array(n * n);
	for (const [row, column] of entries) a[row * n + column] = 1;
	return a;
};

test("a chain comes from its source; what nothing reads is left out", () => {
	const chain = matrix(4, [
		[0, 1],
		[1, 2],
		[3, 0],
	]);
	expect(statesInOrder(chain, 4, [0])).toEqual([[2], [1], [0]]);
});

test("states that hang on each other stand together, a state on itself alone", () => {
	const a = matrix(5, [
		[0, 3],
		[3, 0],
		[3, 4],
		[4, 4],
		[1, 0],
	]);
	expect(statesInOrder(a, 5, [0, 1, 2])).toEqual([[4], [0, 3], [1], [2]]);
});

test("in any matrix nothing hangs on a later group, and groups are those that reach each other", () => {
	const random = createRandom(7).uniform;
	for (let trial = 0; trial < 60; trial++) {
		const n = 9;
		const a = Float64Array.from({ length: n * n }, () => (random() < 0.15 ? 1 : 0));
		const groups = statesInOrder(a, n, [...Array(n).keys()]);
		expect(groups.flat().sort((x, y) => x - y)).toEqual([...Array(n).keys()]);
		const reach = Array.from({ length: n }, (_, i) =>
			Array.from({ length: n }, (__, j) => i === j || a[i * n + j] !== 0),
		);
		for (let k = 0; k < n; k++)
			for (let i = 0; i < n; i++) for (let j = 0; j < n; j++) reach[i]![j] ||= reach[i]![k]! && reach[k]![j]!;
		const place = (i: number): number => groups.findIndex((group) => group.includes(i));
		for (let i = 0; i < n; i++)
			for (let j = 0; j < n; j++) {
				if (reach[i]![j]) expect(place(j)).toBeLessThanOrEqual(place(i));
				expect(place(i) === place(j)).toBe(reach[i]![j]! && reach[j]![i]!);
			}
	}
});
