import type { Complex } from "./complex.ts";
import { eigenvalues } from "./eigenvalues.ts";

/** Real polynomials as coefficients by FALLING power: [1, 3, 2] is x^2 + 3 x + 2. */
export type Polynomial = readonly number[];

/** Without leading zeros; the zero polynomial is []. */
export function trim(p: Polynomial): number[] {
	const first = p.findIndex((c) => c !== 0);
	return first < 0 ? [] : p.slice(first);
}

export function multiply(a: Polynomial, b: Polynomial): number[] {
	if (a.length === 0 || b.length === 0) return [];
	const out = new Array<number>(a.length + b.length - 1).fill(0);
	a.forEach((x, i) => {
		b.forEach((y, j) => {
			out[i + j]! += x * y;
		});
	});
	return out;
}

export function add(a: Polynomial, b: Polynomial): number[] {
	const n = Math.max(a.length, b.length);
	return Array.from({ length: n }, (_, i) => (a[i - n + a.length] ?? 0) + (b[i - n + b.length] ?? 0));
}

/** p at re + j im, written into out = [Re, Im]; Horner. */
export function evaluate(p: Polynomial, re: number, im: number, out: Float64Array): void {
	let x = 0;
	let y = 0;
	for (const c of p) {
		const kept = x * re - y * im + c;
		y = x * im + y * re;
		x = kept;
	}
	out[0] = x;
	out[1] = y;
}

/** Roots as eigenvalues of the companion matrix; roots at 0 are exact. */
export function roots(p: Polynomial): Complex[] {
	const monic = trim(p);
	const out: Complex[] = [];
	while (monic.length > 1 && monic[monic.length - 1] === 0) {
		monic.pop();
		out.push({ re: 0, im: 0 });
	}
	const n = monic.length - 1;
	if (n < 1) return out;
	const companion = new Float64Array(n * n);
	for (let j = 0; j < n; j++) companion[j] = -monic[j + 1]! / monic[0]!;
	for (let i = 1; i < n; i++) companion[i * n + i - 1] = 1;
	const { re, im } = eigenvalues(companion, n);
	for (let i = 0; i < n; i++) out.push({ re: re[i]!, im: im[i]! });
	return out;
}

/** The monic polynomial with these roots; complex ones in conjugate pairs. */
export function fromRoots(list: readonly Complex[]): number[] {
	let re = [1];
	let im = [0];
	for (const r of list) {
		const nextRe = [...re, 0];
		const nextIm = [...im, 0];
		for (let i = 0; i < re.length; i++) {
			nextRe[i + 1]! -= re[i]! * r.re - im[i]! * r.im;
			nextIm[i + 1]! -= re[i]! * r.im + im[i]! * r.re;
		}
		re = nextRe;
		im = nextIm;
	}
	return re;
}
