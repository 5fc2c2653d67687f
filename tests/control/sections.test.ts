import { describe, expect, it } from "vitest";
import { blockOrder, respondBlock, stepBlock } from "../../src/control/block.ts";
import { BLOCK_REGISTRY, delay, lowPass1, lowPass2, notch, pidCore } from "../../src/control/blocks.ts";
import { sectionsOf, stepSections } from "../../src/control/sections.ts";
import { createRandom } from "../../src/math/random.ts";
import { sineAnswer } from "./demodulate.ts";

const T = 0.002;
const fitting = Object.entries(BLOCK_REGISTRY)
	.map(([name, make]) => [name, make(T)] as const)
	.filter(([, b]) => b.numerators.length === 1 && (blockOrder(b) === 1 || blockOrder(b) === 2));

describe("sections", () => {
	it("are checked on every registered filter", () =>
		expect(fitting.map(([name]) => name)).toEqual(
			expect.arrayContaining(["lowPass1", "lowPass2", "notch", "expLowPass", "filteredDerivative"]),
		));
	it.each(fitting)("answer a sine as the coefficients say: %s", (_name, block) => {
		for (const samples of [7, 12, 40, 160]) {
			const sections = sectionsOf([block]);
			const state = new Float64Array(2);
			const [re, im] = sineAnswer(
				(x) => {
					sections[0] = x;
					stepSections(sections, state, 0);
					return sections[0]!;
				},
				samples,
				Math.ceil(400 / samples),
				4,
			);
			const out = new Float64Array(2);
			respondBlock(block, 0, (2 * Math.PI) / samples, out);
			expect(Math.hypot(re - out[0]!, im - out[1]!)).toBeLessThan(
				1e-9 * Math.max(1, Math.hypot(out[0]!, out[1]!)),
			);
		}
	});
	it("step a chain to the bit as the generic stepper does, block by block", () => {
		const chain = [lowPass2(80, 0.7, T), lowPass1(60, T), notch(110, 30, T), lowPass1(150, T)];
		const sections = sectionsOf(chain);
		const state = new Float64Array(8);
		const expected = new Float64Array(8);
		const random = createRandom(5);
		for (let k = 0; k < 500; k++) {
			let x = random.normal();
			sections[0] = x;
			stepSections(sections, state, 1);
			let at = 1;
			for (const block of chain) {
				x = stepBlock(block, [x], expected, at, blockOrder(block));
				at += blockOrder(block);
			}
			expect(sections[0]).toBe(x);
			expect([...state]).toEqual([...expected]);
		}
	});
	it("refuse what does not fit", () => {
		const numbers = { kp: 1, ki: 1, kd: 1, kff: 0, setPointWeight: 1, derivativeCutoffHz: 40 };
		expect(() => sectionsOf([pidCore(numbers, T)])).toThrow(/2 inputs/);
		expect(() => sectionsOf([delay(3)])).toThrow(/order 3/);
	});
});
