/**
 * Eigenvalues alone of an n x n row-major matrix: stabilised elimination to Hessenberg form, then the double-shift QR iteration
 * (R. S. Martin, G. Peters, J. H. Wilkinson, Numer. Math. 12 (1968) 349 and 14 (1970) 219; the steps of `elmhes` and `hqr`).
 * Balance first. The matrix is overwritten.
 * @returns null when an eigenvalue is not found in 60 iterations
 */
export function hessenbergEigenvalues(
	a: Float64Array,
	n: number,
): { readonly re: Float64Array; readonly im: Float64Array } | null {
	toHessenberg(a, n);
	const re = new Float64Array(n);
	const im = new Float64Array(n);
	let norm = 0;
	for (let i = 0; i < n; i++) for (let j = Math.max(0, i - 1); j < n; j++) norm += Math.abs(a[i * n + j]!);
	let shift = 0;
	let iterations = 0;
	for (let high = n - 1; high >= 0; ) {
		const low = lastSplit(a, n, high, norm);
		const x = a[high * n + high]!;
		if (low === high) {
			re[high] = x + shift;
			high--;
			iterations = 0;
		} else if (low === high - 1) {
			pair(a, n, high, shift, re, im);
			high -= 2;
			iterations = 0;
		} else {
			if (++iterations > 60) return null;
			const exceptional = iterations % 10 === 0;
			if (exceptional) {
				shift += x;
				for (let i = 0; i <= high; i++) a[i * n + i]! -= x;
			}
			sweep(a, n, low, high, exceptional);
		}
	}
	return { re, im };
}

function toHessenberg(a: Float64Array, n: number): void {
	for (let m = 1; m < n - 1; m++) {
		let pivot = m;
		for (let i = m + 1; i < n; i++)
			if (Math.abs(a[i * n + m - 1]!) > Math.abs(a[pivot * n + m - 1]!)) pivot = i;
		const x = a[pivot * n + m - 1]!;
		if (x === 0) continue;
		if (pivot !== m) {
			for (let j = m - 1; j < n; j++) swap(a, pivot * n + j, m * n + j);
			for (let i = 0; i < n; i++) swap(a, i * n + pivot, i * n + m);
		}
		for (let i = m + 1; i < n; i++) {
			const y = a[i * n + m - 1]! / x;
			if (y === 0) continue;
			a[i * n + m - 1] = 0;
			for (let j = m; j < n; j++) a[i * n + j]! -= y * a[m * n + j]!;
			for (let k = 0; k < n; k++) a[k * n + m]! += y * a[k * n + i]!;
		}
	}
}

function swap(a: Float64Array, i: number, j: number): void {
	const kept = a[i]!;
	a[i] = a[j]!;
	a[j] = kept;
}

/** The row from which the block that ends at `high` is unreduced; what splits it off is set to 0. */
function lastSplit(a: Float64Array, n: number, high: number, norm: number): number {
	for (let l = high; l >= 1; l--) {
		const beside = Math.abs(a[(l - 1) * n + l - 1]!) + Math.abs(a[l * n + l]!) || norm;
		if (Math.abs(a[l * n + l - 1]!) + beside === beside) {
			a[l * n + l - 1] = 0;
			return l;
		}
	}
	return 0;
}

/** Both eigenvalues of the 2 x 2 block that ends at `high`. */
function pair(
	a: Float64Array,
	n: number,
	high: number,
	shift: number,
	re: Float64Array,
	im: Float64Array,
): void {
	const x = a[high * n + high]!;
	const w = a[high * n + high - 1]! * a[(high - 1) * n + high]!;
	const p = 0.5 * (a[(high - 1) * n + high - 1]! - x);
	const q = p * p + w;
	const root = Math.sqrt(Math.abs(q));
	if (q < 0) {
		re[high - 1] = re[high] = x + shift + p;
		im[high - 1] = root;
		im[high] = -root;
		return;
	}
	const z = p + (p < 0 ? -root : root);
	re[high - 1] = re[high] = x + shift + z;
	if (z !== 0) re[high] = x + shift - w / z;
}

/** One double-shift QR step on rows and columns low .. high. */
function sweep(a: Float64Array, n: number, low: number, high: number, exceptional: boolean): void {
	let x = a[high * n + high]!;
	let y = a[(high - 1) * n + high - 1]!;
	let w = a[high * n + high - 1]! * a[(high - 1) * n + high]!;
	if (exceptional) {
		const s = Math.abs(a[high * n + high - 1]!) + Math.abs(a[(high - 1) * n + high - 2]!);
		x = 0.75 * s;
		y = x;
		w = -0.4375 * s * s;
	}
	let p = 0;
	let q = 0;
	let r = 0;
	let m = high - 2;
	for (; ; m--) {
		const z = a[m * n + m]!;
		const dx = x - z;
		const dy = y - z;
		p = (dx * dy - w) / a[(m + 1) * n + m]! + a[m * n + m + 1]!;
		q = a[(m + 1) * n + m + 1]! - z - dx - dy;
		r = a[(m + 2) * n + m + 1]!;
		const s = Math.abs(p) + Math.abs(q) + Math.abs(r);
		p /= s;
		q /= s;
		r /= s;
		if (m === low) break;
		const u = Math.abs(a[m * n + m - 1]!) * (Math.abs(q) + Math.abs(r));
		const v =
			Math.abs(p) * (Math.abs(a[(m - 1) * n + m - 1]!) + Math.abs(z) + Math.abs(a[(m + 1) * n + m + 1]!));
		if (u + v === v) break;
	}
	for (let i = m + 2; i <= high; i++) {
		a[i * n + i - 2] = 0;
		if (i > m + 2) a[i * n + i - 3] = 0;
	}
	for (let k = m; k < high; k++) {
		const three = k < high - 1;
		let size = 1;
		if (k !== m) {
			p = a[k * n + k - 1]!;
			q = a[(k + 1) * n + k - 1]!;
			r = three ? a[(k + 2) * n + k - 1]! : 0;
			size = Math.abs(p) + Math.abs(q) + Math.abs(r);
			if (size === 0) continue;
			p /= size;
			q /= size;
			r /= size;
		}
		const length = Math.sqrt(p * p + q * q + r * r);
		const s = p < 0 ? -length : length;
		if (s === 0) continue;
		if (k !== m) a[k * n + k - 1] = -s * size;
		else if (low !== m) a[k * n + k - 1] = -a[k * n + k - 1]!;
		p += s;
		reflect(a, n, low, high, k, three, p / s, q / s, r / s, q / p, r / p);
	}
}

/** Rows, then columns, k .. k + 2 by one Householder reflection. */
function reflect(
	a: Float64Array,
	n: number,
	low: number,
	high: number,
	k: number,
	three: boolean,
	x: number,
	y: number,
	z: number,
	q: number,
	r: number,
): void {
	const [r0, r1, r2] = [k * n, (k + 1) * n, (k + 2) * n];
	for (let j = k; j <= high; j++) {
		let p = a[r0 + j]! + q * a[r1 + j]!;
		if (three) {
			p += r * a[r2 + j]!;
			a[r2 + j]! -= p * z;
		}
		a[r1 + j]! -= p * y;
		a[r0 + j]! -= p * x;
	}
	const last = Math.min(high, k + 3);
	for (let i = low; i <= last; i++) {
		const at = i * n + k;
		let p = x * a[at]! + y * a[at + 1]!;
		if (three) {
			p += z * a[at + 2]!;
			a[at + 2]! -= p * r;
		}
		a[at + 1]! -= p * q;
		a[at]! -= p;
	}
}
