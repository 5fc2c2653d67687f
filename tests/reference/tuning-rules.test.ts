import { describe, expect, it } from "vitest";
import { analyseLoopFromTransferFunction } from "../../src/analysis/scalar-loop-transfer.ts";
import { discretise } from "../../src/linear/discretise.ts";
import { CONTINUOUS, stateSpace } from "../../src/linear/state-space.ts";

// Astrom, Panagopoulos and Hagglund, Automatica 34 (1998) 585-601 (table from memory; optimum recomputed).
describe("PI with the most integral gain under a limit on Ms", () => {
	it.each([
		["1/(s+1)^3", [1, 3, 3, 1], 0, 1.4, 0.63242, 1.944],
		["1/(s+1)^3", [1, 3, 3, 1], 0, 2, 1.22232, 1.7839],
		["e^-s/s", [1, 0], 1, 1.4, 0.28219, 6.74552],
		["e^-s/s", [1, 0], 1, 1.6, 0.3686, 5.07382],
	] as const)("%s: %j, delay %f, Ms %f at K %f, Ti %f", (_, den, delaySec, limit, gain, time) => {
		const ms = (k: number, ki: number): number =>
			analyseLoopFromTransferFunction({ num: [k, ki], den: [...den, 0], delaySec }).ms.value ?? Infinity;
		const best = gain / time;
		expect(Math.abs(ms(gain, best) - limit)).toBeLessThan(2e-4);
		// No gain near it (the constrained set's edge is flat there) allows 0.1 % more integral gain.
		for (let share = 0.9; share < 1.1; share += 0.01)
			expect(ms(gain * share, 1.001 * best)).toBeGreaterThan(limit);
	});
});

it("a relay on e^-s/(s+1) swings 1 - 1/e at period 2 ln(2e - 1) (closed form)", () => {
	const h = 1e-4;
	const plant = discretise(stateSpace(CONTINUOUS, { a: [[-1]], b: [[1]], c: [[1]] }), h);
	// The delay is a queue of 10000 held inputs.
	const decay = plant.a[0]!;
	const push = plant.b[0]!;
	const queue = new Float64Array(10000);
	let x = 0;
	let top = 0;
	const rises: number[] = [];
	let before = 0;
	for (let k = 0; k < 200000; k++) {
		const u = x > 0 || (x === 0 && k === 0) ? -1 : 1;
		const arrived = queue[k % 10000]!;
		queue[k % 10000] = u;
		before = x;
		x = decay * x + push * arrived;
		if (k > 100000) top = Math.max(top, x);
		if (before <= 0 && x > 0 && k > 100000) rises.push((k + -before / (x - before)) * h);
	}
	expect(top).toBeCloseTo(0.63212056, 3);
	expect(rises[1]! - rises[0]!).toBeCloseTo(2.97976025, 3);
	expect(2 * Math.log(2 * Math.E - 1)).toBeCloseTo(2.97976025, 8);
});
