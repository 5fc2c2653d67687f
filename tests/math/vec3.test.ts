import fc from "fast-check";
import { expect, test } from "vitest";
import * as vec3 from "../../src/math/vec3.ts";

const finite = fc.double({ min: -1e3, max: 1e3, noNaN: true });
const vector = fc.tuple(finite, finite, finite);

test("the cross product follows the right-hand rule", () => {
	expect(vec3.cross([1, 0, 0], [0, 1, 0])).toEqual([0, 0, 1]);
	expect(vec3.cross([0, 1, 0], [0, 0, 1])).toEqual([1, 0, 0]);
});

test("a cross product is perpendicular to both factors, and Lagrange's identity holds", () => {
	fc.assert(
		fc.property(vector, vector, (a, b) => {
			const c = vec3.cross(a, b);
			const size = vec3.length(a) ** 2 * vec3.length(b) ** 2;
			expect(Math.abs(vec3.dot(a, c))).toBeLessThanOrEqual(1e-12 * (1 + size * vec3.length(a)));
			const identity = vec3.dot(c, c) + vec3.dot(a, b) ** 2 - size;
			expect(Math.abs(identity)).toBeLessThanOrEqual(1e-12 * (1 + size));
		}),
	);
});

test("add, subtract, scale and length", () => {
	expect(vec3.add([1, 2, 3], [4, 5, 6])).toEqual([5, 7, 9]);
	expect(vec3.subtract([4, 5, 6], [1, 2, 3])).toEqual([3, 3, 3]);
	expect(vec3.scale([1, -2, 3], 2)).toEqual([2, -4, 6]);
	expect(vec3.length([2, 3, 6])).toBe(7);
});
