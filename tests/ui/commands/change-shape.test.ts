import { describe, expect, it } from "vitest";
import { addEntry } from "../../../src/ui/commands/add-entry.ts";
import { changeShape, type Shape } from "../../../src/ui/commands/change-shape.ts";
import { done, partsOf, readState, wrongAt } from "./on-demo.ts";

const SHAPES: readonly Shape[] = ["point", "box", "cylinder", "rod", "tube"];

describe("changeShape", () => {
	it("keeps name, mass, place and what sizes fit", () => {
		// The battery: a box of 140 x 48 x 40 mm.
		const state = done(changeShape(1, "cylinder"));
		expect(partsOf(state)[1]).toEqual({
			name: "battery",
			shape: "cylinder",
			mass: "560 g",
			position: ["8 mm", 0, "-42 mm"],
			diameter: "48 mm",
			length: "40 mm",
		});
		expect(partsOf(changeShape(1, "rod").apply(state))[1]).toMatchObject({ shape: "rod", length: "40 mm" });
		// A boom: a tube of 16 mm, 210 mm long, at two places.
		expect(partsOf(done(changeShape(2, "box")))[2]).toMatchObject({
			size: ["210 mm", "16 mm", "16 mm"],
			at: partsOf(done())[2]!["at"],
			orientation: [0, 0, "45 deg"],
		});
	});
	it("leaves what nothing says to be typed", () => {
		const added = done(addEntry("craft.parts", { name: "new", shape: "point", mass: "10 g" }));
		expect(wrongAt(changeShape(11, "tube").apply(added)).sort()).toEqual([
			"craft.parts[11].length",
			"craft.parts[11].outerDiameter",
		]);
		expect(wrongAt(changeShape(11, "box").apply(added))).toEqual(["craft.parts[11].size"]);
	});
	it.each(SHAPES.flatMap((from) => SHAPES.map((to) => [from, to] as const)))(
		"from %s to %s has no size of the other shape left over",
		(from, to) => {
			const state = done(changeShape(1, from), changeShape(1, to));
			const unknown = wrongAt(state).filter((path) => !/(length|[dD]iameter|size(\[\d\])?)$/.test(path));
			expect(unknown).toEqual([]);
			if (to === "point") expect(readState(state).parts[1]).toMatchObject({ shape: "point", mass: 0.56 });
		},
	);
	it("is no change to the same shape", () => {
		const state = done();
		expect(changeShape(1, "box").apply(state)).toBe(state);
	});
});
