import { eigenvalues } from "../math/eigenvalues.ts";
import { multiply } from "../math/matrix.ts";
import * as polynomial from "../math/polynomial.ts";
import { type StateSpace, stateSpace, type TimeBase } from "./state-space.ts";

/** num/den by falling powers of s (continuous) or z (sampled), leading zeros removed; num [] is 0. */
export interface TransferFunction<T extends TimeBase = TimeBase> {
	readonly timeBase: T;
	readonly num: readonly number[];
	readonly den: readonly number[];
	/** Continuous: e^{-s delay}, exact. Sampled: 0, whole periods are powers of z in den. */
	readonly delaySec: number;
}

/** @throws RangeError on empty, non-finite, zero-denominator or improper input. */
export function transferFunction<T extends TimeBase>(
	timeBase: T,
	num: readonly number[],
	den: readonly number[],
	delaySec = 0,
): TransferFunction<T> {
	for (const [name, list] of [
		["num", num],
		["den", den],
	] as const) {
		if (list.length === 0) throw new RangeError(`transferFunction: ${name} is empty, expected coefficients`);
		const bad = list.find((v) => !Number.isFinite(v));
		if (bad !== undefined)
			throw new RangeError(`transferFunction: ${name} holds ${bad}, expected finite numbers`);
	}
	const top = polynomial.trim(num);
	const bottom = polynomial.trim(den);
	if (bottom.length === 0)
		throw new RangeError("transferFunction: den is 0, expected a non-zero coefficient");
	if (top.length > bottom.length)
		throw new RangeError(
			`transferFunction: num has degree ${top.length - 1} above den's ${bottom.length - 1}, expected a proper function`,
		);
	if (!(delaySec >= 0 && Number.isFinite(delaySec)))
		throw new RangeError(`transferFunction: delay ${delaySec} s, expected 0 or more`);
	if (timeBase.kind === "continuous" || delaySec === 0) return { timeBase, num: top, den: bottom, delaySec };
	const periods = delaySec / timeBase.periodSec;
	const whole = Math.round(periods);
	if (Math.abs(periods - whole) > 1e-9 * Math.max(1, whole))
		throw new RangeError(
			`transferFunction: delay ${delaySec} s is ${periods} periods of a sampled function, expected whole periods (a fraction needs the continuous plant behind its hold)`,
		);
	return { timeBase, num: top, den: [...bottom, ...new Array<number>(whole).fill(0)], delaySec: 0 };
}

/** num/den e^{-s delay} at omega (rad/s), into out = [Re, Im]; not finite on a pole. */
export function respond(tf: TransferFunction, omega: number, out: Float64Array): void {
	const { timeBase } = tf;
	const sampledAt = timeBase.kind === "sampled" ? omega * timeBase.periodSec : null;
	const re = sampledAt === null ? 0 : Math.cos(sampledAt);
	const im = sampledAt === null ? omega : Math.sin(sampledAt);
	polynomial.evaluate(tf.num, re, im, out);
	const nr = out[0]!;
	const ni = out[1]!;
	polynomial.evaluate(tf.den, re, im, out);
	const dr = out[0]!;
	const di = out[1]!;
	const size = dr * dr + di * di;
	const qr = (nr * dr + ni * di) / size;
	const qi = (ni * dr - nr * di) / size;
	const c = Math.cos(omega * tf.delaySec);
	const s = -Math.sin(omega * tf.delaySec);
	out[0] = qr * c - qi * s;
	out[1] = qr * s + qi * c;
}

/** Controllable canonical form of the rational part; the delay stays with the caller. */
export function toStateSpace<T extends TimeBase>(tf: TransferFunction<T>): StateSpace<T> {
	const n = tf.den.length - 1;
	const lead = tf.den[0]!;
	const den = tf.den.map((v) => v / lead);
	const num = [...new Array<number>(n + 1 - tf.num.length).fill(0), ...tf.num].map((v) => v / lead);
	const direct = num[0]!;
	const a = new Float64Array(n * n);
	const b = new Float64Array(n);
	const c = new Float64Array(n);
	for (let j = 0; j < n; j++) {
		a[j] = -den[j + 1]!;
		c[j] = num[j + 1]! - direct * den[j + 1]!;
	}
	for (let i = 1; i < n; i++) a[i * n + i - 1] = 1;
	if (n > 0) b[0] = 1;
	return stateSpace(
		tf.timeBase,
		{ a, b, c, d: Float64Array.of(direct) },
		{ order: n, inputs: 1, outputs: 1 },
	);
}

/**
 * From one input to one output: den from the eigenvalues of A, num from those of A - B C (det(zI - A + BC) = den (1 +
 * C (zI - A)^-1 B), the matrix determinant lemma).
 */
export function fromStateSpace<T extends TimeBase>(
	system: StateSpace<T>,
	input = 0,
	output = 0,
): TransferFunction<T> {
	const { order: n, inputs: m, a } = system;
	if (!(input >= 0 && input < m && output >= 0 && output < system.outputs))
		throw new RangeError(
			`fromStateSpace: input ${input}, output ${output}, expected below ${m} and ${system.outputs}`,
		);
	const c = system.c.slice(output * n, (output + 1) * n);
	const b = Float64Array.from({ length: n }, (_, i) => system.b[i * m + input]!);
	const bc = multiply(b, c, n, 1, n);
	const list = (matrix: Float64Array): number[] => {
		const { re, im } = eigenvalues(matrix, n);
		return polynomial.fromRoots(Array.from(re, (v, i) => ({ re: v, im: im[i]! })));
	};
	const den = list(a);
	const closed = list(a.map((v, i) => v - bc[i]!));
	const direct = system.d[output * m + input]!;
	const num = den.map((v, i) => closed[i]! - v + direct * v);
	return transferFunction(system.timeBase, num, den);
}
