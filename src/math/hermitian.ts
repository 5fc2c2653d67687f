/** Sweeps of rotations; convergence is quadratic, 6 x 6 needs about six. */
const MOST_SWEEPS = 30;

/**
 * Largest eigenvalue of an n x n Hermitian matrix re + j im (row-major, both used up) and its unit eigenvector, by
 * Jacobi rotations (Golub and Van Loan, Matrix Computations, section 8.5, from memory), each after the phase of its entry is
 * taken out. `vector` gets n pairs [Re, Im]; `workRe` and `workIm` hold n x n. Allocates nothing.
 */
export function largestHermitian(
	re: Float64Array,
	im: Float64Array,
	n: number,
	vector: Float64Array,
	workRe: Float64Array,
	workIm: Float64Array,
): number {
	let trace = 0;
	for (let i = 0; i < n; i++) {
		trace += Math.abs(re[i * n + i]!);
		for (let j = 0; j < n; j++) {
			workRe[i * n + j] = i === j ? 1 : 0;
			workIm[i * n + j] = 0;
		}
	}
	for (let sweep = 0; sweep < MOST_SWEEPS; sweep++) {
		let off = 0;
		for (let p = 0; p < n; p++)
			for (let q = p + 1; q < n; q++) off += re[p * n + q]! ** 2 + im[p * n + q]! ** 2;
		if (off <= 1e-32 * trace * trace) break;
		for (let p = 0; p < n; p++) for (let q = p + 1; q < n; q++) rotate(re, im, n, p, q, workRe, workIm);
	}
	let top = 0;
	for (let i = 1; i < n; i++) if (re[i * n + i]! > re[top * n + top]!) top = i;
	for (let i = 0; i < n; i++) {
		vector[2 * i] = workRe[i * n + top]!;
		vector[2 * i + 1] = workIm[i * n + top]!;
	}
	return re[top * n + top]!;
}

/** Makes entry (p, q) 0: q turned by its phase, then a real rotation of p and q. */
function rotate(
	re: Float64Array,
	im: Float64Array,
	n: number,
	p: number,
	q: number,
	vr: Float64Array,
	vi: Float64Array,
): void {
	const hr = re[p * n + q]!;
	const hi = im[p * n + q]!;
	const size = Math.sqrt(hr * hr + hi * hi);
	if (size === 0) return;
	const tau = (re[q * n + q]! - re[p * n + p]!) / (2 * size);
	const t = (tau >= 0 ? 1 : -1) / (Math.abs(tau) + Math.sqrt(1 + tau * tau));
	const c = 1 / Math.sqrt(1 + t * t);
	const s = t * c;
	// e^{-j theta} of the entry.
	const er = hr / size;
	const ei = -hi / size;
	const pp = re[p * n + p]! - t * size;
	const qq = re[q * n + q]! + t * size;
	for (let k = 0; k < n; k++) {
		turnColumns(vr, vi, k * n + p, k * n + q, c, s, er, ei);
		if (k === p || k === q) continue;
		turnColumns(re, im, k * n + p, k * n + q, c, s, er, ei);
		re[p * n + k] = re[k * n + p]!;
		im[p * n + k] = -im[k * n + p]!;
		re[q * n + k] = re[k * n + q]!;
		im[q * n + k] = -im[k * n + q]!;
	}
	re[p * n + p] = pp;
	re[q * n + q] = qq;
	re[p * n + q] = 0;
	im[p * n + q] = 0;
	re[q * n + p] = 0;
	im[q * n + p] = 0;
}

function turnColumns(
	re: Float64Array,
	im: Float64Array,
	p: number,
	q: number,
	c: number,
	s: number,
	er: number,
	ei: number,
): void {
	const pr = re[p]!;
	const pi = im[p]!;
	const qr = re[q]! * er - im[q]! * ei;
	const qi = re[q]! * ei + im[q]! * er;
	re[p] = c * pr - s * qr;
	im[p] = c * pi - s * qi;
	re[q] = s * pr + c * qr;
	im[q] = s * pi + c * qi;
}
