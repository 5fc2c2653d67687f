import * as polynomial from "../math/polynomial.ts";

/**
 * How many closed-loop poles of num/den e^{-s delay} lie to the right: zeros of den + num e^{-s delay}, which is entire, so
 * the argument principle needs no detour about open-loop poles (Mikhailov's criterion carried to delays; Bellman and
 * Cooke, Differential-Difference Equations, 1963, from memory). With n the degree of den, count = (n - 2/pi times the
 * turn of that function along omega from 0 to infinity)/2.
 *
 * `marginal` when a pole lies on the axis to working precision. `infinite` when num is as high as den and
 * |num/den| >= 1 at infinity: a chain of poles to the right.
 */
export type RightPoles =
	| { readonly kind: "count"; readonly count: number }
	| { readonly kind: "marginal"; readonly radPerSec: number }
	| { readonly kind: "infinite" };

export function countRightPoles(
	num: readonly number[],
	den: readonly number[],
	delaySec: number,
): RightPoles {
	const n = den.length - 1;
	if (num.length === 0) num = [0];
	const lead = num.length === den.length ? Math.abs(num[0]! / den[0]!) : 0;
	if (lead >= 1 && delaySec > 0) return { kind: "infinite" };
	const poles = polynomial.roots(den);
	const end = smallGainBeyond(num, den, poles);
	const out = new Float64Array(2);
	const at = (w: number): readonly [number, number] => {
		polynomial.evaluate(num, 0, w, out);
		const nr = out[0]!;
		const ni = out[1]!;
		polynomial.evaluate(den, 0, w, out);
		const c = Math.cos(w * delaySec);
		const s = -Math.sin(w * delaySec);
		return [out[0]! + nr * c - ni * s, out[1]! + nr * s + ni * c];
	};
	let turn = 0;
	let marginal = Number.NaN;
	const angle = (a: readonly [number, number], b: readonly [number, number]): number =>
		Math.atan2(a[0] * b[1] - a[1] * b[0], a[0] * b[0] + a[1] * b[1]);
	const walk = (
		w0: number,
		a: readonly [number, number],
		w1: number,
		b: readonly [number, number],
		depth: number,
	): void => {
		const w = (w0 + w1) / 2;
		const m = at(w);
		const first = angle(a, m);
		const second = angle(m, b);
		if (Math.abs(first) < 0.4 && Math.abs(second) < 0.4) {
			turn += first + second;
			return;
		}
		if (depth === 0) {
			marginal = w;
			return;
		}
		walk(w0, a, w, m, depth - 1);
		walk(w, m, w1, b, depth - 1);
	};
	const origin = at(0);
	if (Math.abs(origin[0]) <= 1e-13 * sizeAtZero(num, den)) return { kind: "marginal", radPerSec: 0 };
	const marks = startingMarks(end, delaySec);
	let w0 = 0;
	let a = origin;
	for (const w1 of marks) {
		const b = at(w1);
		walk(w0, a, w1, b, 36);
		w0 = w1;
		a = b;
	}
	if (!Number.isNaN(marginal)) return { kind: "marginal", radPerSec: marginal };
	// From `end` on |L| < 1: den's own turn, less what 1 + L still has to give back.
	for (const p of poles) turn += Math.PI / 2 - Math.atan2(end - p.im, -p.re);
	polynomial.evaluate(den, 0, end, out);
	const tail = angle([out[0]!, out[1]!], a);
	turn -= tail;
	// With as high a num, 1 + L keeps circling inside the right half plane and gives back the same on average.
	return { kind: "count", count: Math.round((n - (2 * turn) / Math.PI) / 2) + 0 };
}

const sizeAtZero = (num: readonly number[], den: readonly number[]): number =>
	Math.max(Math.abs(num[num.length - 1]!), Math.abs(den[den.length - 1]!), 1e-300);

/** A frequency beyond every pole and zero from which on |num/den| < 1. */
function smallGainBeyond(
	num: readonly number[],
	den: readonly number[],
	poles: readonly { re: number; im: number }[],
): number {
	let corner = 1e-6;
	for (const r of [...poles, ...polynomial.roots(num)]) corner = Math.max(corner, Math.hypot(r.re, r.im));
	const fall = den.length - num.length;
	const lead = Math.abs(num[0]! / den[0]!);
	const unity = fall > 0 ? (4 * lead) ** (1 / fall) : 0;
	if (fall > 0) return Math.max(20 * corner, unity);
	const room = Math.min(0.5, (1 - lead) / (4 * (den.length + num.length)));
	return corner / Math.max(room, 1e-6);
}

function startingMarks(end: number, delaySec: number): number[] {
	const marks: number[] = [];
	for (let w = end * 1e-6; w < end; w *= 1.15) marks.push(w);
	if (delaySec > 0) {
		const step = 0.5 / delaySec;
		if (end / step > 2e6)
			throw new RangeError(
				`countRightPoles: delay ${delaySec} s turns the loop ${Math.round((end * delaySec) / 6.28)} times before its gain is small, expected fewer than 150000 times`,
			);
		for (let w = step; w < end; w += step) marks.push(w);
	}
	marks.push(end);
	return marks.sort((a, b) => a - b);
}
