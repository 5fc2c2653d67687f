import { expect, it } from "vitest";
import { addEntry } from "../../../src/ui/commands/add-entry.ts";
import { craftOf, done, partsOf, readState, wrongAt } from "./on-demo.ts";

it("appends, and the mass follows", () => {
	const part = { name: "camera", shape: "point", mass: "50 g", position: ["80 mm", 0, 0] };
	const state = done(addEntry("craft.parts", part, "add a part"));
	expect(partsOf(state).at(-1)).toEqual(part);
	const before = readState(done()).craft.bare;
	const after = readState(state).craft.bare;
	expect(after.massKg - before.massKg).toBeCloseTo(0.05, 12);
	// The centre moves by the new part's lever over the whole mass.
	const moved = after.centreOfMassM[0] - before.centreOfMassM[0];
	expect(moved).toBeCloseTo((0.05 * (0.08 - before.centreOfMassM[0])) / after.massKg, 12);
});
it("begins a list, and what an entry still lacks is said at its place", () => {
	const state = done(addEntry("craft.motors.bench", {}));
	expect((craftOf(state)["motors"] as { bench: unknown }).bench).toEqual([{}]);
	expect(wrongAt(done(addEntry("craft.parts", { name: "new", shape: "point" })))).toEqual([
		"craft.parts[11].mass",
	]);
});
