/** Dense real matrices, row-major in a Float64Array; sizes are passed along. */

export function identity(n: number): Float64Array {
	const out = new Float64Array(n * n);
	for (let i = 0; i < n; i++) out[i * n + i] = 1;
	return out;
}

/** a (rows x inner) times b (inner x columns). */
export function multiply(
	a: Float64Array,
	b: Float64Array,
	rows: number,
	inner: number,
	columns: number,
	out: Float64Array = new Float64Array(rows * columns),
): Float64Array {
	if (a.length !== rows * inner || b.length !== inner * columns)
		throw new RangeError(
			`multiply: got ${a.length} and ${b.length} entries, expected ${rows} x ${inner} and ${inner} x ${columns}`,
		);
	out.fill(0);
	for (let i = 0; i < rows; i++) {
		const row = i * columns;
		for (let k = 0; k < inner; k++) {
			const factor = a[i * inner + k]!;
			if (factor === 0) continue;
			const from = k * columns;
			for (let j = 0; j < columns; j++) out[row + j]! += factor * b[from + j]!;
		}
	}
	return out;
}

/**
 * x of a x = b by LU with partial pivoting; a is n x n, b is n x columns. Neither is changed.
 * @throws RangeError when a is singular to working precision or holds a non-finite number.
 */
export function solve(a: Float64Array, b: Float64Array, n: number, columns: number): Float64Array {
	if (a.length !== n * n || b.length !== n * columns)
		throw new RangeError(
			`solve: got ${a.length} and ${b.length} entries, expected ${n} x ${n} and ${n} x ${columns}`,
		);
	const lu = a.slice();
	const x = b.slice();
	for (let k = 0; k < n; k++) {
		let p = k;
		for (let i = k + 1; i < n; i++) if (Math.abs(lu[i * n + k]!) > Math.abs(lu[p * n + k]!)) p = i;
		const pivot = lu[p * n + k]!;
		if (!(Math.abs(pivot) > 0 && Number.isFinite(pivot)))
			throw new RangeError(`solve: pivot ${pivot} in column ${k}, expected a regular matrix`);
		if (p !== k) {
			swapRows(lu, n, k, p);
			swapRows(x, columns, k, p);
		}
		for (let i = k + 1; i < n; i++) {
			const f = lu[i * n + k]! / pivot;
			if (f === 0) continue;
			for (let j = k + 1; j < n; j++) lu[i * n + j]! -= f * lu[k * n + j]!;
			for (let j = 0; j < columns; j++) x[i * columns + j]! -= f * x[k * columns + j]!;
		}
	}
	for (let i = n - 1; i >= 0; i--) {
		const row = i * columns;
		for (let k = i + 1; k < n; k++) {
			const f = lu[i * n + k]!;
			if (f === 0) continue;
			for (let j = 0; j < columns; j++) x[row + j]! -= f * x[k * columns + j]!;
		}
		const pivot = lu[i * n + i]!;
		for (let j = 0; j < columns; j++) x[row + j]! /= pivot;
	}
	return x;
}

function swapRows(m: Float64Array, columns: number, i: number, k: number): void {
	for (let j = 0; j < columns; j++) {
		const kept = m[i * columns + j]!;
		m[i * columns + j] = m[k * columns + j]!;
		m[k * columns + j] = kept;
	}
}

/** Largest column sum of absolute values. */
export function norm1(a: Float64Array, n: number): number {
	let largest = 0;
	for (let j = 0; j < n; j++) {
		let sum = 0;
		for (let i = 0; i < n; i++) sum += Math.abs(a[i * n + j]!);
		if (!(sum <= largest)) largest = sum;
	}
	return largest;
}
