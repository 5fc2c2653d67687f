/**
 * The states that `read` hangs on, in groups: states that hang on each other stand together, and every group comes after those it
 * hangs on; state i hangs on j where a (n x n, row-major) has an entry in row i, column j. Strongly connected components by
 * R. Tarjan, SIAM J. Comput. 1(2), 1972 (from memory).
 */
export function statesInOrder(a: Float64Array, n: number, read: readonly number[]): number[][] {
	const groups: number[][] = [];
	const number = new Int32Array(n).fill(-1);
	const lowest = new Int32Array(n);
	const waiting: number[] = [];
	const isWaiting = new Uint8Array(n);
	let count = 0;
	const visit = (i: number): void => {
		number[i] = count;
		lowest[i] = count++;
		waiting.push(i);
		isWaiting[i] = 1;
		for (let j = 0; j < n; j++) {
			if (a[i * n + j] === 0) continue;
			if (number[j]! < 0) visit(j);
			if (isWaiting[j]) lowest[i] = Math.min(lowest[i]!, lowest[j]!);
		}
		if (lowest[i] !== number[i]) return;
		const group = waiting.splice(waiting.indexOf(i));
		for (const each of group) isWaiting[each] = 0;
		groups.push(group.sort((x, y) => x - y));
	};
	for (const i of read) if (number[i]! < 0) visit(i);
	return groups;
}
