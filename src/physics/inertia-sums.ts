/** Sums of inertia over bodies, 3 x 3 row by row in flat arrays; nothing is allocated. */

/** R J R^T into bodies[inertiaAt..] for R at bodies[to..] and J at given[at..]; row by row. */
export function turnInertia(
	bodies: Float64Array,
	to: number,
	inertiaAt: number,
	given: Float64Array,
	at: number,
): void {
	for (let r = 0; r < 3; r++) {
		const a = bodies[to + 3 * r]!;
		const b = bodies[to + 3 * r + 1]!;
		const c = bodies[to + 3 * r + 2]!;
		const x = a * given[at]! + b * given[at + 3]! + c * given[at + 6]!;
		const y = a * given[at + 1]! + b * given[at + 4]! + c * given[at + 7]!;
		const z = a * given[at + 2]! + b * given[at + 5]! + c * given[at + 8]!;
		for (let k = 0; k < 3; k++)
			bodies[inertiaAt + 3 * r + k] =
				x * bodies[to + 3 * k]! + y * bodies[to + 3 * k + 1]! + z * bodies[to + 3 * k + 2]!;
	}
}

/** Steiner's parallel-axis term of a point of mass weights[w] at points[at..], about `centre`. */
export function addPoint(
	j: Float64Array,
	weights: Float64Array,
	w: number,
	points: Float64Array,
	at: number,
	centre: Float64Array,
): void {
	const m = weights[w]!;
	const x = points[at]! - centre[0]!;
	const y = points[at + 1]! - centre[1]!;
	const z = points[at + 2]! - centre[2]!;
	j[0]! += m * (y * y + z * z);
	j[4]! += m * (x * x + z * z);
	j[8]! += m * (x * x + y * y);
	j[1]! -= m * x * y;
	j[3]! -= m * x * y;
	j[2]! -= m * x * z;
	j[6]! -= m * x * z;
	j[5]! -= m * y * z;
	j[7]! -= m * y * z;
}

export function invertSymmetric(j: Float64Array, out: Float64Array): void {
	const a = j[0]!;
	const b = j[1]!;
	const c = j[2]!;
	const d = j[4]!;
	const e = j[5]!;
	const f = j[8]!;
	const c00 = d * f - e * e;
	const c01 = c * e - b * f;
	const c02 = b * e - c * d;
	const inv = 1 / (a * c00 + b * c01 + c * c02);
	out[0] = c00 * inv;
	out[1] = c01 * inv;
	out[2] = c02 * inv;
	out[3] = out[1];
	out[4] = (a * f - c * c) * inv;
	out[5] = (b * c - a * e) * inv;
	out[6] = out[2];
	out[7] = out[5];
	out[8] = (a * d - b * b) * inv;
}
