import { expect, it } from "vitest";
import wren from "../../../scenarios/wren.json";
import { partsByRule } from "../../../src/craft/parts-by-rule.ts";
import { beginParts } from "../../../src/ui/commands/begin-parts.ts";
import { DEMO_STATE } from "../sample.ts";
import { craftOf, readState } from "./on-demo.ts";

it("begins with parts that weigh what the craft weighed, in place of its numbers", () => {
	const before = { ...DEMO_STATE, document: wren };
	const { craft } = readState(before);
	const state = beginParts(partsByRule(craft.bare.massKg, craft.rotors)).apply(before);
	for (const key of ["mass", "centreOfMass", "inertia"]) expect(craftOf(state)).not.toHaveProperty(key);
	const read = readState(state);
	// Five digits are written.
	expect(read.craft.bare.massKg / craft.bare.massKg).toBeCloseTo(1, 4);
	expect(read.massOrigin).toMatchObject({ mass: "parts", centreOfMass: "parts", inertia: "parts" });
	expect(read.massOrigin.shares.map((each) => each.count)).toEqual([1, 4, 1, 1, 1, 1]);
});
