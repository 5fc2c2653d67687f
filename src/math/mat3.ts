import type { Mat3, Vec3 } from "./types.ts";

export const diagonal = (x: number, y: number, z: number): Mat3 => [x, 0, 0, 0, y, 0, 0, 0, z];

export const add = (a: Mat3, b: Mat3): Mat3 => [
	a[0] + b[0],
	a[1] + b[1],
	a[2] + b[2],
	a[3] + b[3],
	a[4] + b[4],
	a[5] + b[5],
	a[6] + b[6],
	a[7] + b[7],
	a[8] + b[8],
];

export const scale = (a: Mat3, s: number): Mat3 => [
	a[0] * s,
	a[1] * s,
	a[2] * s,
	a[3] * s,
	a[4] * s,
	a[5] * s,
	a[6] * s,
	a[7] * s,
	a[8] * s,
];

export const transpose = (a: Mat3): Mat3 => [a[0], a[3], a[6], a[1], a[4], a[7], a[2], a[5], a[8]];

export const times = (a: Mat3, v: Vec3): Vec3 => [
	a[0] * v[0] + a[1] * v[1] + a[2] * v[2],
	a[3] * v[0] + a[4] * v[1] + a[5] * v[2],
	a[6] * v[0] + a[7] * v[1] + a[8] * v[2],
];

export function multiply(a: Mat3, b: Mat3): Mat3 {
	const column = (j: 0 | 1 | 2): Vec3 => times(a, [b[j], b[(j + 3) as 3], b[(j + 6) as 6]]);
	const [x, y, z] = [column(0), column(1), column(2)];
	return [x[0], y[0], z[0], x[1], y[1], z[1], x[2], y[2], z[2]];
}

export function determinant(a: Mat3): number {
	return (
		a[0] * (a[4] * a[8] - a[5] * a[7]) -
		a[1] * (a[3] * a[8] - a[5] * a[6]) +
		a[2] * (a[3] * a[7] - a[4] * a[6])
	);
}

/** @throws RangeError when the determinant is 0 or not finite. */
export function invert(a: Mat3): Mat3 {
	const d = determinant(a);
	if (!Number.isFinite(d) || d === 0)
		throw new RangeError(`mat3.invert: determinant ${d}, expected non-zero`);
	return scale(
		[
			a[4] * a[8] - a[5] * a[7],
			a[2] * a[7] - a[1] * a[8],
			a[1] * a[5] - a[2] * a[4],
			a[5] * a[6] - a[3] * a[8],
			a[0] * a[8] - a[2] * a[6],
			a[2] * a[3] - a[0] * a[5],
			a[3] * a[7] - a[4] * a[6],
			a[1] * a[6] - a[0] * a[7],
			a[0] * a[4] - a[1] * a[3],
		],
		1 / d,
	);
}
