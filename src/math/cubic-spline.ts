/** Places in the array that `evaluate` reads and writes. */
export const SPLINE = { time: 0, value: 1, slope: 2, bend: 3, length: 4 } as const;

export interface CubicSpline {
	readonly from: number;
	readonly to: number;
	/** Value, slope and second derivative at work[SPLINE.time], which is held between `from` and `to`, into `work`. Allocates nothing. */
	evaluate(work: Float64Array): void;
}

/**
 * Cubic spline through points, twice continuously differentiable, with given slopes at both ends (de Boor, A Practical Guide to Splines, chapter IV, complete
 * spline; from memory): m_{i-1}/h_{i-1} + 2 m_i (1/h_{i-1} + 1/h_i) + m_{i+1}/h_i = 3 (d_{i-1}/h_{i-1} + d_i/h_i), d the slope of the chord.
 * @throws RangeError for fewer than two points or times that do not grow.
 */
export function createCubicSpline(
	points: readonly (readonly [number, number])[],
	startSlope: number,
	endSlope: number,
): CubicSpline {
	const n = points.length;
	if (n < 2) throw new RangeError(`cubic spline: ${n} points, expected 2 or more`);
	const times = Float64Array.from(points, ([t]) => t);
	const values = Float64Array.from(points, ([, v]) => v);
	for (let i = 1; i < n; i++)
		if (!(times[i]! > times[i - 1]!))
			throw new RangeError(`cubic spline: time ${times[i]} after ${times[i - 1]}, expected times that grow`);
	const slopes = new Float64Array(n);
	slopes[0] = startSlope;
	slopes[n - 1] = endSlope;
	const width = (i: number): number => times[i + 1]! - times[i]!;
	const chord = (i: number): number => (values[i + 1]! - values[i]!) / width(i);
	// Thomas's elimination of a tridiagonal matrix that is diagonally dominant.
	const above = new Float64Array(n);
	for (let i = 1; i < n - 1; i++) {
		const [a, c] = [1 / width(i - 1), 1 / width(i)];
		const pivot = 2 * (a + c) - a * above[i - 1]!;
		above[i] = i === n - 2 ? 0 : c / pivot;
		const known = i === n - 2 ? c * endSlope : 0;
		slopes[i] = (3 * (chord(i - 1) * a + chord(i) * c) - known - a * slopes[i - 1]!) / pivot;
	}
	for (let i = n - 3; i > 0; i--) slopes[i]! -= above[i]! * slopes[i + 1]!;
	return {
		from: times[0]!,
		to: times[n - 1]!,
		evaluate(work) {
			const t = Math.max(times[0]!, Math.min(times[n - 1]!, work[SPLINE.time]!));
			let i = 0;
			while (i < n - 2 && t >= times[i + 1]!) i++;
			const h = times[i + 1]! - times[i]!;
			const s = t - times[i]!;
			const d = (values[i + 1]! - values[i]!) / h;
			const m = slopes[i]!;
			const b = (3 * d - 2 * m - slopes[i + 1]!) / h;
			const c = (m + slopes[i + 1]! - 2 * d) / (h * h);
			work[SPLINE.value] = values[i]! + s * (m + s * (b + s * c));
			work[SPLINE.slope] = m + s * (2 * b + 3 * c * s);
			work[SPLINE.bend] = 2 * b + 6 * c * s;
		},
	};
}
