import { solve } from "../math/matrix.ts";

/** One row: normal . x <= bound. */
export interface HalfSpace {
	readonly normal: readonly number[];
	readonly bound: number;
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
	c: readonly number[],
	rows: readonly HalfSpace[],
	start: readonly number[],
): number[] {
	const n = c.length;
	let x = [...start];
	const hessian = new Float64Array(n * n);
	const gradient = new Float64Array(n);
	const barrier = (at: readonly number[], weight: number): number => {
		let value = 0;
		for (let i = 0; i < n; i++) value += weight * c[i]! * at[i]!;
		for (const { normal, bound } of rows) {
			let room = bound;
			for (let i = 0; i < n; i++) room -= normal[i]! * at[i]!;
			if (!(room > 0)) return Infinity;
			value -= Math.log(room);
		}
		return value;
	};
	let weight = 1;
	for (let k = 0; k < SHARPENINGS; k++, weight *= SHARPER) {
		for (let step = 0; step < NEWTON_STEPS; step++) {
			hessian.fill(0);
			for (let i = 0; i < n; i++) gradient[i] = -weight * c[i]!;
			for (const { normal, bound } of rows) {
				let room = bound;
				for (let i = 0; i < n; i++) room -= normal[i]! * x[i]!;
				for (let i = 0; i < n; i++) {
					const f = normal[i]! / room;
					gradient[i]! -= f;
					for (let j = 0; j < n; j++) hessian[i * n + j]! += (f * normal[j]!) / room;
				}
			}
			let way: Float64Array;
			try {
				way = solve(hessian, gradient, n, 1);
			} catch {
				return x;
			}
			let decrement = 0;
			for (let i = 0; i < n; i++) decrement += way[i]! * gradient[i]!;
			if (!(decrement > 1e-8)) break;
			const here = barrier(x, weight);
			let by = 1;
			let next = x;
			for (; by > 1e-8; by /= 2) {
				next = x.map((v, i) => v + by * way[i]!);
				if (barrier(next, weight) <= here - 0.1 * by * decrement) break;
			}
			if (by <= 1e-8) break;
			x = next;
		}
	}
	return x;
}
