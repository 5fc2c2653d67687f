import { solve } from "../math/matrix.ts";

/** Rows normal . x <= bound; normals one after the other. */
export interface HalfSpaces {
	readonly normals: Float64Array;
	readonly bounds: Float64Array;
}

const SHARPENINGS = 8;
const SHARPER = 10;
const NEWTON_STEPS = 12;

/**
 * Least c . x within half spaces, for few variables, by a logarithmic barrier and Newton's method (Boyd and Vandenberghe, Convex
 * Optimization, 2004, section 11.3; from memory). Rows that look the same way need no special care. To about 1e-6.
 * @param start strictly inside every half space
 */
export function leastLinear(
	c: Float64Array,
	{ normals, bounds }: HalfSpaces,
	start: Float64Array,
): Float64Array {
	const n = c.length;
	const count = bounds.length;
	let x = start.slice();
	let next = new Float64Array(n);
	const hessian = new Float64Array(n * n);
	const gradient = new Float64Array(n);
	const scaled = new Float64Array(n);
	/** Of `barrierAt`: what each row leaves. */
	let rooms = new Float64Array(count);
	let nextRooms = new Float64Array(count);
	let weight = 1;
	let here = barrierAt(c, normals, bounds, x, weight, rooms);
	for (let k = 0; k < SHARPENINGS; k++, weight *= SHARPER) {
		if (k > 0) here = barrierAt(c, normals, bounds, x, weight, rooms);
		for (let step = 0; step < NEWTON_STEPS; step++) {
			hessian.fill(0);
			for (let i = 0; i < n; i++) gradient[i] = -weight * c[i]!;
			for (let r = 0; r < count; r++) {
				const room = rooms[r]!;
				for (let i = 0; i < n; i++) {
					const f = normals[r * n + i]! / room;
					scaled[i] = f;
					gradient[i]! -= f;
					for (let j = 0; j <= i; j++) hessian[i * n + j]! += f * scaled[j]!;
				}
			}
			for (let i = 0; i < n; i++) for (let j = 0; j < i; j++) hessian[j * n + i] = hessian[i * n + j]!;
			let way: Float64Array;
			try {
				way = solve(hessian, gradient, n, 1);
			} catch {
				return x;
			}
			let decrement = 0;
			for (let i = 0; i < n; i++) decrement += way[i]! * gradient[i]!;
			if (!(decrement > 1e-8)) break;
			let by = 1;
			let there = Infinity;
			for (; by > 1e-8; by /= 2) {
				for (let i = 0; i < n; i++) next[i] = x[i]! + by * way[i]!;
				there = barrierAt(c, normals, bounds, next, weight, nextRooms);
				if (there <= here - 0.1 * by * decrement) break;
			}
			if (by <= 1e-8) break;
			here = there;
			[x, next] = [next, x];
			[rooms, nextRooms] = [nextRooms, rooms];
		}
	}
	return x;
}

/** weight c . x less the logarithms of what every row leaves, kept in `rooms`; Infinity outside. */
function barrierAt(
	c: Float64Array,
	normals: Float64Array,
	bounds: Float64Array,
	x: Float64Array,
	weight: number,
	rooms: Float64Array,
): number {
	const n = c.length;
	let value = 0;
	for (let i = 0; i < n; i++) value += weight * c[i]! * x[i]!;
	for (let r = 0; r < bounds.length; r++) {
		let room = bounds[r]!;
		for (let i = 0; i < n; i++) room -= normals[r * n + i]! * x[i]!;
		if (!(room > 0)) return Infinity;
		rooms[r] = room;
		value -= Math.log(room);
	}
	return value;
}
