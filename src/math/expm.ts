import { identity, multiply, norm1, solve } from "./matrix.ts";

/** Coefficients of the [13/13] Pade approximant and its largest norm: Higham 2005, table 2.3 (from memory). */
const PADE_13 = [
	64764752532480000, 32382376266240000, 7771770303897600, 1187353796428800, 129060195264000, 10559470521600,
	670442572800, 33522128640, 1323241920, 40840800, 960960, 16380, 182, 1,
] as const;
const THETA_13 = 5.371920351148152;

/**
 * e^A of an n x n row-major matrix: scaling and squaring with the [13/13] Pade approximant (N. J. Higham, SIAM J.
 * Matrix Anal. Appl. 26(4), 2005).
 * @throws RangeError when A holds a non-finite number.
 */
export function expm(a: Float64Array, n: number): Float64Array {
	const size = norm1(a, n);
	if (!Number.isFinite(size)) throw new RangeError(`expm: norm ${size}, expected finite entries`);
	const squarings = size > THETA_13 ? Math.ceil(Math.log2(size / THETA_13)) : 0;
	const scaled = a.map((v) => v / 2 ** squarings);
	const times = (x: Float64Array, y: Float64Array): Float64Array => multiply(x, y, n, n, n);
	const a2 = times(scaled, scaled);
	const a4 = times(a2, a2);
	const a6 = times(a4, a2);
	const one = identity(n);
	const b = PADE_13;
	const blend = (c6: number, c4: number, c2: number, c0: number): Float64Array =>
		a6.map((v, i) => c6 * v + c4 * a4[i]! + c2 * a2[i]! + c0 * one[i]!);
	const plus = (x: Float64Array, y: Float64Array): Float64Array => x.map((v, i) => v + y[i]!);
	const odd = times(scaled, plus(times(a6, blend(b[13], b[11], b[9], 0)), blend(b[7], b[5], b[3], b[1])));
	const even = plus(times(a6, blend(b[12], b[10], b[8], 0)), blend(b[6], b[4], b[2], b[0]));
	let result = solve(
		even.map((v, i) => v - odd[i]!),
		plus(even, odd),
		n,
		n,
	);
	for (let i = 0; i < squarings; i++) result = times(result, result);
	return result;
}
