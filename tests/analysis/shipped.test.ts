import { readdirSync, readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { hyperperiodCheck } from "../../src/analysis/hyperperiod-check.ts";
import { marginsReport } from "../../src/analysis/margins-report.ts";
import { timingChain } from "../../src/analysis/timing-chain.ts";
import { AXES, type GainSet } from "../../src/control/spec.ts";
import { type Craft, NOMINAL_POINT } from "../../src/craft/model.ts";
import { loadScenario } from "../../src/scenario/load.ts";

const folder = new URL("../../scenarios/", import.meta.url);
const cases = readdirSync(folder)
	.filter((name) => name.endsWith(".json"))
	.flatMap((name): [string, Craft, GainSet][] => {
		const loaded = loadScenario(readFileSync(new URL(name, folder), "utf8"));
		if (!loaded.ok) throw new Error(`${name}: ${JSON.stringify(loaded.errors)}`);
		return loaded.scenario.gainSets.map((set) => [`${name}, set ${set.name}`, loaded.scenario.craft, set]);
	});

describe("every shipped craft and gain set", () => {
	it("some are there", () => {
		expect(cases.length).toBeGreaterThanOrEqual(5);
	});

	it.each(cases)(
		"%s: the answers agree",
		(_, craft, set) => {
			const found = marginsReport(craft, set, NOMINAL_POINT);
			if (!found.feasible) throw new Error(found.reason);
			const { axes, periodic } = found.report;
			const openings = ["rateLoop", "angleLoop", "wholeAxis"] as const;
			let compared = 0;
			for (const axis of AXES)
				for (const opening of openings) {
					const frequency = axes[axis][opening];
					const lifted = periodic.axes[axis][opening];
					expect(lifted === null).toBe(frequency === null);
					if (!frequency || !lifted) continue;
					const answers = [
						["gainMarginUpDb", 0.3, 60],
						["gainMarginDownDb", 0.3, 60],
						["delayMarginSec", 1e-3, 1],
					] as const;
					for (const [margin, within, reach] of answers) {
						const difference = lifted.difference[margin];
						if (difference !== null) {
							expect(Math.abs(difference), `${axis} ${opening} ${margin}`).toBeLessThan(within);
							compared++;
							continue;
						}
						// One has no number: both have none, or the frequency answer lies beyond what is looked for.
						const far = Math.abs(frequency[margin].value ?? Number.POSITIVE_INFINITY);
						const clock = opening === "angleLoop" ? "attitude" : "frame";
						const most =
							margin === "delayMarginSec" ? 60e-6 * timingChain(craft.timing)[clock].periodUs : reach;
						expect(lifted[margin].value, `${axis} ${opening} ${margin}`).toBeNull();
						expect(far, `${axis} ${opening} ${margin}`).toBeGreaterThan(0.999 * most);
					}
				}
			expect(compared).toBeGreaterThanOrEqual(6);
			const flight = hyperperiodCheck(craft, set, NOMINAL_POINT);
			expect(flight.verdict).toBe(periodic.stable ? "stable" : "unstable");
			expect(AXES.every((axis) => periodic.axes[axis].stable)).toBe(periodic.stable);
			// The flight's map has modes besides, such as heave, that no loop feels.
			const growth = (radius: number): number => Math.log(radius) / flight.hyperperiodSec;
			expect(growth(periodic.spectralRadius)).toBeLessThan(growth(flight.radius) + 0.005);
		},
		30_000,
	);
});
