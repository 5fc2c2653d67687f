import { describe, expect, it } from "vitest";
import { liftedProgram } from "../../src/analysis/lifted-program.ts";
import { timingChain } from "../../src/analysis/timing-chain.ts";
import type { Craft } from "../../src/craft/model.ts";
import { unequalCraft } from "../fixtures/clocks.ts";

function program(change: Partial<Craft["timing"]>, applyUs: number, readsAngle = true) {
	const chain = timingChain(unequalCraft(change).timing);
	const made = liftedProgram(chain, { applyUs: [applyUs], angleEarlierUs: [0] }, [readsAngle]);
	const count = (kind: string): number => made.steps.filter((s) => s.kind === kind).length;
	return { chain, made, count };
}

describe("one hyperperiod without what no one reads", () => {
	it("a gyro twice as fast as the loop: every other sample is read", () => {
		const { made, count } = program({ gyro: { periodUs: 1000, phaseUs: 601 }, gyroBusUs: 400 }, 1644);
		const samples = (what: string): number =>
			made.steps.filter((s) => s.kind === "sample" && s.what === what).length;
		expect(samples("rate")).toBe(255);
		expect(samples("angle")).toBe(51);
		expect(count("tick")).toBe(255);
	});

	it("frames of 4 ms behind a 2 ms loop: every other command is made for no one", () => {
		const { made } = program({ escFrame: { periodUs: 4000, phaseUs: 0 } }, 1644);
		const commands = made.steps.flatMap((s) => (s.kind === "tick" ? [s.command >= 0] : []));
		expect(commands.filter(Boolean).length).toBe(commands.length / 2);
	});

	it("flows add up to the hyperperiod, and the commands in effect to each flow", () => {
		for (const applyUs of [0, 1644.3, 40_000]) {
			const { chain, made } = program({ computeUs: 350, gyro: { periodUs: 1000, phaseUs: 50 } }, applyUs);
			let whole = 0;
			for (const step of made.steps) {
				if (step.kind !== "flow") continue;
				whole += step.lengthUs;
				const spans = step.spans.reduce((sum, span) => sum + span.fromUs - span.toUs, 0);
				expect(spans).toBeCloseTo(step.lengthUs, 6);
			}
			expect(whole).toBeCloseTo(chain.hyperperiodUs, 5);
		}
	});

	it("a longer delay carries more commands over, an open angle path no angles", () => {
		const short = program({}, 1644).made.carried.length;
		// Twenty frames later: twenty more on their way, less those of ticks that two frames latch.
		const long = program({}, 1644 + 20 * 2040).made.carried.length;
		expect(long - short).toBeGreaterThanOrEqual(19);
		expect(long - short).toBeLessThanOrEqual(21);
		expect(program({}, 1644, false).made.carried.length).toBeLessThan(short);
		expect(program({}, 1644, false).made.steps.some((s) => s.kind === "sample" && s.what === "angle")).toBe(
			false,
		);
	});
});
