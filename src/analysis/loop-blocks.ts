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
			if (j === i || (reach(i, j) && reach(j, i))) {
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

/** Whether state i influences state j after any number of steps (Warshall, J. ACM 9, 1962), 32 states to a word. */
function reachability(map: Float64Array, n: number): (i: number, j: number) => boolean {
	const words = Math.ceil(n / 32);
	const reach = new Int32Array(n * words);
	for (let j = 0; j < n; j++)
		for (let i = 0; i < n; i++) if (map[j * n + i] !== 0) reach[i * words + (j >> 5)]! |= 1 << (j & 31);
	const has = (i: number, j: number): boolean => ((reach[i * words + (j >> 5)]! >> (j & 31)) & 1) === 1;
	for (let k = 0; k < n; k++)
		for (let i = 0; i < n; i++)
			if (has(i, k)) for (let w = 0; w < words; w++) reach[i * words + w]! |= reach[k * words + w]!;
	return has;
}
