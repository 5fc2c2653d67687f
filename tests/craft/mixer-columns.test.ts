import { expect, it } from "vitest";
import { idleColumn } from "../../src/craft/mixer-columns.ts";
import type { Vec3 } from "../../src/math/types.ts";

const QUAD: readonly Vec3[] = [
	[-1, 1, 1],
	[-1, -1, -1],
	[1, -1, 1],
	[1, 1, -1],
];
const column = (k: 0 | 1 | 2, of: (row: Vec3) => number): Vec3[] =>
	QUAD.map((row) => row.map((x, i) => (i === k ? of(row) : x)) as unknown as Vec3);

it("finds the column that is 0, the same in every row, or made of the others, and none in a quad's table", () => {
	expect(idleColumn(QUAD)).toBeNull();
	expect(idleColumn(column(1, () => 0))).toBe("pitch");
	expect(idleColumn(column(0, () => 0.7))).toBe("roll");
	expect(idleColumn(column(2, ([roll, pitch]) => 0.3 * roll - 2 * pitch + 0.1))).toBe("yaw");
	expect(idleColumn(column(2, ([roll, , yaw]) => roll + 1e-3 * yaw))).toBeNull();
});
