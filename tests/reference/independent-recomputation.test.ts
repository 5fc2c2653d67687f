import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { marginsReport } from "../../src/analysis/margins-report.ts";
import { NOMINAL_POINT } from "../../src/craft/model.ts";
import { fly } from "../../src/flight/engine.ts";
import { loadScenario } from "../../src/scenario/load.ts";

/**
 * Every number here was recomputed independently from docs/model.md with NumPy and SciPy: equations of motion, linear model by
 * central differences, exact zero-order hold, the periodic loop as a product of event matrices, a flight by RK4 in Euler
 * angles. Only the crafts' resolved numbers and gains were read. Tolerances: the second route's own error.
 */
function scenario(name: string) {
	const loaded = loadScenario(readFileSync(new URL(`../../scenarios/${name}.json`, import.meta.url), "utf8"));
	if (!loaded.ok) throw new Error(`${name}: ${loaded.errors[0]?.message}`);
	return loaded.scenario;
}

/** A limb's servos, which the independent model has not, take no current. */
function report(name: string) {
	const { craft: built, gainSets } = scenario(name);
	const { limb } = built;
	const links = limb?.links.map((link) => ({ ...link, servo: { ...link.servo, stallCurrentA: 0 } }));
	const craft = limb && links ? { ...built, limb: { ...limb, links } } : built;
	const found = marginsReport(craft, gainSets[0]!, NOMINAL_POINT);
	if (!found.feasible) throw new Error(found.reason);
	return found.report;
}

test("equal clocks: wren's margins by an exact sampled model of all six degrees of freedom", () => {
	const { roll, pitch, yaw } = report("wren").axes;
	for (const [loop, up, ms, mt] of [
		[roll.rateLoop, 30.2814822, 1.12782368, 0.999987209],
		[roll.angleLoop, 23.853044, 1.13167823, 0.995068186],
		[roll.wholeAxis, 30.2641838, 1.13887109, 1.09849124],
		[pitch.wholeAxis, 30.0690236, 1.13209738, 1.10399205],
		[yaw.rateLoop, 29.734109, 1.07819016, 1.02040602],
	] as const) {
		if (!loop?.stable) throw new Error("expected a stable loop");
		expect(loop.gainMarginUpDb.value).toBeCloseTo(up, 6);
		expect(loop.ms.value).toBeCloseTo(ms, 6);
		expect(loop.mt.value).toBeCloseTo(mt, 6);
	}
});

test("unequal clocks: gain margins by a product of event matrices, a parametric resonance included", () => {
	const pitch = report("sandpiper").periodic.axes.pitch;
	// Radius 1 - 7.6e-5 at 25.258 dB, 1 + 0.010 at 25.28 dB; below 1 again at 25.38 dB.
	expect(pitch.rateLoop.gainMarginUpDb.value).toBeCloseTo(25.2582, 3);
	const yaw = report("published-luukkonen-2011").periodic.axes.yaw;
	expect(yaw.rateLoop.gainMarginUpDb.value).toBeCloseTo(15.128078, 4);
});

test("a flown roll step, torque kick and turn, by another integrator in Euler angles", () => {
	const { craft, gainSets, drills } = scenario("wren");
	const flown = (name: string): Readonly<Record<string, Float64Array>> => {
		const drill = drills.find((d) => d.name === name)!;
		const options = { noise: false, rounding: false, recordPeriodUs: 2000 };
		return fly({ craft, point: NOMINAL_POINT, gainSet: gainSets[0]!, drill, options }).trace.columns;
	};
	const at = [275, 300, 400, 600, 749] as const;
	for (const [name, column, values] of [
		["roll step", "roll", [0.0126029202, 0.0435124367, 0.124124744, 0.165929512, 0.170986191]],
		["torque kick", "roll", [0.0045326223, 0.00566574007, 0.000967855335, -0.000798323311, -0.000730871213]],
		["yaw rate step", "yawRate", [0.566072127, 0.591505777, 0.671344664, 0.758475765, 0.787408578]],
	] as const) {
		const trace = flown(name)[column]!;
		at.forEach((k, i) => {
			expect(Math.abs(trace[k]! - values[i]!)).toBeLessThan(1e-6);
		});
	}
});
