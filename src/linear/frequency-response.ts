import type { StateSpace } from "./state-space.ts";

/** Writes [Re, Im] of the answer at omega (rad/s) into out, output by output, input by input. */
export type Responder = (omegaRadPerSec: number, out: Float64Array) => void;

/**
 * C (x I - A)^-1 B + D with x = j omega (continuous) or e^{j omega T} (sampled): out holds outputs x inputs pairs.
 * The work arrays are made once; calls allocate nothing. On a pole the answer is not finite.
 */
export function createResponder(system: StateSpace): Responder {
	const { order: n, inputs: m, outputs: p, timeBase } = system;
	const re = new Float64Array(n * n);
	const im = new Float64Array(n * n);
	const xr = new Float64Array(n * m);
	const xi = new Float64Array(n * m);
	return (omega, out) => {
		const sampled = timeBase.kind === "sampled";
		const zr = sampled ? Math.cos(omega * timeBase.periodSec) : 0;
		const zi = sampled ? Math.sin(omega * timeBase.periodSec) : omega;
		for (let i = 0; i < n * n; i++) {
			re[i] = -system.a[i]!;
			im[i] = 0;
		}
		for (let i = 0; i < n; i++) {
			re[i * n + i]! += zr;
			im[i * n + i] = zi;
		}
		xr.set(system.b);
		xi.fill(0);
		solveInPlace(re, im, xr, xi, n, m);
		for (let o = 0; o < p; o++) {
			for (let j = 0; j < m; j++) {
				let sumRe = system.d[o * m + j]!;
				let sumIm = 0;
				for (let k = 0; k < n; k++) {
					const c = system.c[o * n + k]!;
					sumRe += c * xr[k * m + j]!;
					sumIm += c * xi[k * m + j]!;
				}
				out[2 * (o * m + j)] = sumRe;
				out[2 * (o * m + j) + 1] = sumIm;
			}
		}
	};
}

/** Complex Gaussian elimination with partial pivoting; the right-hand side becomes the solution. */
function solveInPlace(
	re: Float64Array,
	im: Float64Array,
	xr: Float64Array,
	xi: Float64Array,
	n: number,
	m: number,
): void {
	for (let k = 0; k < n; k++) {
		let p = k;
		let best = -1;
		for (let i = k; i < n; i++) {
			const size = re[i * n + k]! * re[i * n + k]! + im[i * n + k]! * im[i * n + k]!;
			if (size > best) {
				best = size;
				p = i;
			}
		}
		if (p !== k) {
			for (let j = k; j < n; j++) {
				swap(re, k * n + j, p * n + j);
				swap(im, k * n + j, p * n + j);
			}
			for (let j = 0; j < m; j++) {
				swap(xr, k * m + j, p * m + j);
				swap(xi, k * m + j, p * m + j);
			}
		}
		const pr = re[k * n + k]! / best;
		const pi = -im[k * n + k]! / best;
		for (let i = k + 1; i < n; i++) {
			const ar = re[i * n + k]!;
			const ai = im[i * n + k]!;
			if (ar === 0 && ai === 0) continue;
			const fr = ar * pr - ai * pi;
			const fi = ar * pi + ai * pr;
			for (let j = k + 1; j < n; j++) {
				const br = re[k * n + j]!;
				const bi = im[k * n + j]!;
				re[i * n + j]! -= fr * br - fi * bi;
				im[i * n + j]! -= fr * bi + fi * br;
			}
			for (let j = 0; j < m; j++) {
				const br = xr[k * m + j]!;
				const bi = xi[k * m + j]!;
				xr[i * m + j]! -= fr * br - fi * bi;
				xi[i * m + j]! -= fr * bi + fi * br;
			}
		}
		for (let j = 0; j < m; j++) {
			const br = xr[k * m + j]!;
			const bi = xi[k * m + j]!;
			xr[k * m + j] = pr * br - pi * bi;
			xi[k * m + j] = pr * bi + pi * br;
		}
		for (let j = k + 1; j < n; j++) {
			const br = re[k * n + j]!;
			const bi = im[k * n + j]!;
			re[k * n + j] = pr * br - pi * bi;
			im[k * n + j] = pr * bi + pi * br;
		}
	}
	for (let k = n - 1; k >= 0; k--) {
		for (let i = 0; i < k; i++) {
			const ar = re[i * n + k]!;
			const ai = im[i * n + k]!;
			for (let j = 0; j < m; j++) {
				const br = xr[k * m + j]!;
				const bi = xi[k * m + j]!;
				xr[i * m + j]! -= ar * br - ai * bi;
				xi[i * m + j]! -= ar * bi + ai * br;
			}
		}
	}
}

function swap(list: Float64Array, i: number, k: number): void {
	const kept = list[i]!;
	list[i] = list[k]!;
	list[k] = kept;
}
