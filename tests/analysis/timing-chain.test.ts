import { describe, expect, it } from "vitest";
import { timingChain, transportUs } from "../../src/analysis/timing-chain.ts";
import { unequalCraft } from "../fixtures/clocks.ts";
import { sampleCraft } from "../fixtures/craft.ts";

describe("timing chain", () => {
	it("clocks repeat after their least common multiple", () => {
		expect(timingChain(sampleCraft().timing).hyperperiodUs).toBe(2000);
		const chain = timingChain(unequalCraft().timing);
		expect(chain.hyperperiodUs).toBe(510_000);
		expect(chain.rationalised).toBe("");
	});

	it("clocks that would not repeat within a second are changed a little, and it says so", () => {
		const chain = timingChain(unequalCraft({ escFrame: { periodUs: 2039, phaseUs: 0 } }).timing);
		expect(chain.hyperperiodUs).toBeLessThanOrEqual(1_000_000);
		expect(chain.rationalised).toContain("2039 us as");
		expect(Math.abs(chain.frame.periodUs - 2039)).toBeLessThan(40);
		expect(Math.abs(chain.tickUs / 2000 - 1)).toBeLessThan(0.02);
	});

	it("a pulse is known only at its end; a digital frame takes its own time", () => {
		const width = { kind: "width", shortestUs: 1000, longestUs: 2000, resolutionUs: 1 } as const;
		expect(transportUs(width, 0.4)).toBe(1400);
		expect(transportUs(width, 1.2)).toBe(2000);
		expect(transportUs({ kind: "digital", transportUs: 30, steps: 2000 }, 0.4)).toBe(30);
	});
});
