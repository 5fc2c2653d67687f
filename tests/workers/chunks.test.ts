import { expect, test } from "vitest";
import { chunks } from "../../workers/chunks.ts";

test("chunks cover every cell once, in order", () => {
	for (const [total, most] of [
		[10, 3],
		[9, 3],
		[1, 5],
		[0, 4],
	] as const) {
		const cells = chunks(total, most).flatMap(({ first, count }) =>
			Array.from({ length: count }, (_, i) => first + i),
		);
		expect(cells).toEqual(Array.from({ length: total }, (_, i) => i));
	}
	expect(chunks(10, 3).map((c) => c.count)).toEqual([3, 3, 3, 1]);
});

test("a size that makes no sense names itself", () => {
	expect(() => chunks(-1, 2)).toThrow("total -1: expected");
	expect(() => chunks(4, 0)).toThrow("chunk size 0: expected");
});
