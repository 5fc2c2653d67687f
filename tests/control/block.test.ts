import { describe, expect, it } from "vitest";
import { blockOrder, respondBlock, settleBlock, stepBlock } from "../../src/control/block.ts";
import { BLOCK_REGISTRY, integrator, lowPass2, notch } from "../../src/control/blocks.ts";
import { sineAnswer } from "./demodulate.ts";

const T = 0.002;

describe.each(Object.entries(BLOCK_REGISTRY))("%s", (_name, make) => {
	const block = make(T);
	it.each(block.numerators.map((_, i) => i))("steps a sine as it answers it, input %i", (input) => {
		for (const samples of [7, 12, 40, 160]) {
			const state = new Float64Array(blockOrder(block));
			const inputs = new Float64Array(block.numerators.length);
			const [re, im] = sineAnswer(
				(x) => {
					inputs[input] = x;
					return stepBlock(block, inputs, state, 0, state.length);
				},
				samples,
				Math.ceil(400 / samples),
				4,
			);
			const out = new Float64Array(2);
			respondBlock(block, input, (2 * Math.PI) / samples, out);
			expect(Math.hypot(re - out[0]!, im - out[1]!)).toBeLessThan(
				1e-9 * Math.max(1, Math.hypot(out[0]!, out[1]!)),
			);
		}
	});
	it("begins its denominator with 1", () => expect(block.denominator[0]).toBe(1));
});

describe("settleBlock", () => {
	it.each([lowPass2(40, 0.6, T), notch(60, 15, T)])("leaves nothing to settle", (block) => {
		const state = new Float64Array(4);
		const y = settleBlock(block, 0.7, state, 1);
		expect(y).toBeCloseTo(0.7, 12);
		for (let k = 0; k < 20; k++) expect(stepBlock(block, [0.7], state, 1, 2)).toBeCloseTo(y, 12);
	});
	it("refuses a block without a gain at rest", () =>
		expect(() => settleBlock(integrator(T), 1, new Float64Array(1), 0)).toThrow(/finite/));
});
