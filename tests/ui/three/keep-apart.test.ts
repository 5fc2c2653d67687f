import { describe, expect, it } from "vitest";
import { keepApart, type LabelBox } from "../../../src/ui/three/keep-apart.ts";

const box = (x: number, y: number, yields = true): LabelBox => ({ x, y, width: 60, height: 16, yields });

describe("labels in a picture of the craft", () => {
	it("stay where nothing lies over them", () => {
		expect(keepApart([box(0, 0), box(70, 0), box(0, 20)])).toEqual([0, 0, 0]);
	});
	it("go the nearest way out, in their order, and never over one that stays", () => {
		expect(keepApart([box(0, 0, false), box(10, 0)])).toEqual([0, 16]);
		expect(keepApart([box(0, 0), box(10, 2), box(20, 4)])).toEqual([0, 16, 32]);
		expect(keepApart([box(10, 4), box(0, 0, false)])).toEqual([16, 0]);
	});
	it("make no room for one out of sight", () => {
		expect(keepApart([{ ...box(0, 0, false), width: 0, height: 0 }, box(10, 0)])).toEqual([0, 0]);
	});
	it("stay where they belong when there is no room near", () => {
		const wall = [-3, -2, -1, 0, 1, 2, 3].map((k) => box(0, 16 * k, false));
		expect(keepApart([...wall, box(0, 3)]).at(-1)).toBe(0);
	});
});
