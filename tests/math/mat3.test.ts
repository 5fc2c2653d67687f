import { expect, test } from "vitest";
import * as mat3 from "../../src/math/mat3.ts";
import type { Mat3 } from "../../src/math/types.ts";

const hilbert: Mat3 = [1, 1 / 2, 1 / 3, 1 / 2, 1 / 3, 1 / 4, 1 / 3, 1 / 4, 1 / 5];

test("the 3 x 3 Hilbert matrix has determinant 1/2160 and an integer inverse (Hilbert 1894; from memory)", () => {
	expect(mat3.determinant(hilbert)).toBeCloseTo(1 / 2160, 15);
	const inverse = mat3.invert(hilbert);
	const printed = [9, -36, 30, -36, 192, -180, 30, -180, 180];
	for (let i = 0; i < 9; i++) expect(Math.abs(inverse[i]! - printed[i]!)).toBeLessThan(1e-10);
});

test("a matrix times its inverse is the identity", () => {
	const product = mat3.multiply(hilbert, mat3.invert(hilbert));
	const identity = mat3.diagonal(1, 1, 1);
	for (let i = 0; i < 9; i++) expect(Math.abs(product[i]! - identity[i]!)).toBeLessThan(1e-13);
});

test("transpose reverses the order of a product", () => {
	const a: Mat3 = [1, 2, 3, 4, 5, 6, 7, 8, 10];
	const left = mat3.transpose(mat3.multiply(a, hilbert));
	const right = mat3.multiply(mat3.transpose(hilbert), mat3.transpose(a));
	for (let i = 0; i < 9; i++) expect(left[i]).toBeCloseTo(right[i]!, 14);
});

test("a singular matrix is refused with its determinant", () => {
	expect(() => mat3.invert([1, 2, 3, 2, 4, 6, 0, 0, 1])).toThrow(/determinant 0/);
});
