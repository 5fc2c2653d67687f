import { spectralRadius } from "../math/eigenvalues.ts";

/**
 * Spectral radius of a map, n x n, over its loops alone: states that influence each other are taken together, and a single
 * state that keeps its value and is in no loop (an integrator nothing drives or nothing reads: position, an integral with
 * gain 0, velocity without drag) is left out.
 */
export function loopRadius(map: Float64Array, n: number): number {
	const reach = reachability(map, n);
	const done = new Uint8Array(n);
	let radius = 0;
	for (let i = 0; i < n; i++) {
		if (done[i]) continue;
		const group: number[] = [];
		for (let j = i; j < n; j++)
			if (j === i || (reach[i * n + j] && reach[j * n + i])) {
				group.push(j);
				done[j] = 1;
			}
		if (group.length === 1) {
			const value = map[i * n + i]!;
			if (Math.abs(value - 1) > 1e-9) radius = Math.max(radius, Math.abs(value));
			continue;
		}
		const size = group.length;
		const block = new Float64Array(size * size);
		group.forEach((row, r) => {
			group.forEach((column, c) => {
				block[r * size + c] = map[row * n + column]!;
			});
		});
		radius = Math.max(radius, spectralRadius(block, size));
	}
	return radius;
}

/** 1 where state i influences state j after any number of steps (Warshall, J. ACM 9, 1962). */
function reachability(map: Float64Array, n: number): Uint8Array {
	const reach = new Uint8Array(n * n);
	for (let i = 0; i < n; i++) for (let j = 0; j < n; j++) if (map[j * n + i] !== 0) reach[i * n + j] = 1;
	for (let k = 0; k < n; k++)
		for (let i = 0; i < n; i++) {
			if (!reach[i * n + k]) continue;
			for (let j = 0; j < n; j++) if (reach[k * n + j]) reach[i * n + j] = 1;
		}
	return reach;
}
