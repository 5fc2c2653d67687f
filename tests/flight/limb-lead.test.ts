import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { NOMINAL_POINT } from "../../src/craft/model.ts";
import { fly } from "../../src/flight/engine.ts";
import { loadScenario } from "../../src/scenario/load.ts";

const loaded = loadScenario(readFileSync("scenarios/sandpiper.json", "utf8"));
if (!loaded.ok) throw new Error("sandpiper");
const { craft, gainSets, drills } = loaded.scenario;
const set = gainSets[1]!;

/** The most that a column departs from where it began. */
function most(limbLead: number, drillName: string, column: string): number {
	const drill = drills.find(({ name }) => name === drillName)!;
	const flight = fly({
		craft,
		point: NOMINAL_POINT,
		gainSet: { ...set, limbLead },
		drill,
		options: { noise: false, rounding: false },
	});
	expect(flight.status).toBe("completed");
	const values = flight.trace.columns[column]!;
	return Math.max(...Array.from(values, (v) => Math.abs(v - values[0]!)));
}

describe("what limb and load ask for, fed forward", () => {
	it("leaves the integral what it was: with the limb out the trim's own u comes from the lead", () => {
		// Without it pitch's integral takes up the whole shift of the centre of mass; with it next to nothing.
		const without = most(0, "swing out", "pitchIntegral");
		const withIt = most(1, "swing out", "pitchIntegral");
		expect(without).toBeGreaterThan(0.01);
		expect(withIt).toBeLessThan(without / 4);
	});

	it("keeps a craft that takes up and lets go while reaching more than three times nearer to level", () => {
		const without = most(0, "let go while reaching", "pitch");
		expect(most(1, "let go while reaching", "pitch")).toBeLessThan(without / 3);
		const half = most(0.5, "let go while reaching", "pitch");
		expect(half).toBeLessThan(without);
	});

	it("changes nothing where no limb moves", () => {
		const drill = drills.find(({ name }) => name === "roll step")!;
		const fly1 = (limbLead: number) =>
			fly({ craft, point: NOMINAL_POINT, gainSet: { ...set, limbLead }, drill }).trace.columns["roll"]!;
		expect(fly1(1)).toEqual(fly1(0));
	});
});
