import { multiply, norm1, solve } from "./matrix.ts";

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
	const count = n * n;
	const scaled = new Float64Array(count);
	for (let i = 0; i < count; i++) scaled[i] = a[i]! / 2 ** squarings;
	const times = (x: Float64Array, y: Float64Array): Float64Array => multiply(x, y, n, n, n);
	const a2 = times(scaled, scaled);
	const a4 = times(a2, a2);
	const a6 = times(a4, a2);
	const b = PADE_13;
	/** c6 A^6 + c4 A^4 + c2 A^2 + c0, then `more`. */
	const blend = (c6: number, c4: number, c2: number, c0: number, more: Float64Array | null): Float64Array => {
		const out = new Float64Array(count);
		for (let i = 0; i < count; i++) out[i] = c6 * a6[i]! + c4 * a4[i]! + c2 * a2[i]!;
		for (let i = 0; i < count; i += n + 1) out[i]! += c0;
		if (more !== null) for (let i = 0; i < count; i++) out[i]! += more[i]!;
		return out;
	};
	const high = (c6: number, c4: number, c2: number): Float64Array => times(a6, blend(c6, c4, c2, 0, null));
	const odd = times(scaled, blend(b[7], b[5], b[3], b[1], high(b[13], b[11], b[9])));
	const even = blend(b[6], b[4], b[2], b[0], high(b[12], b[10], b[8]));
	const below = new Float64Array(count);
	for (let i = 0; i < count; i++) {
		below[i] = even[i]! - odd[i]!;
		even[i]! += odd[i]!;
	}
	let result = solve(below, even, n, n);
	for (let i = 0; i < squarings; i++) result = times(result, result);
	return result;
}
