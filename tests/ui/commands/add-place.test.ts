import { expect, it } from "vitest";
import { addPlace } from "../../../src/ui/commands/add-place.ts";
import { done, partsOf, readState } from "./on-demo.ts";

it("makes several of one, and one more of several", () => {
	const twice = done(addPlace(1));
	expect(partsOf(twice)[1]).not.toHaveProperty("position");
	expect(partsOf(twice)[1]!["at"]).toEqual([
		["8 mm", 0, "-42 mm"],
		["8 mm", 0, "-42 mm"],
	]);
	expect(readState(twice).massOrigin.shares[1]).toMatchObject({ count: 2, massKg: 1.12 });
	expect(partsOf(done(addPlace(4)))[4]!["at"]).toHaveLength(5);
});
it("knows of none for a part that is not there", () =>
	expect(() => done(addPlace(11))).toThrow("craft.parts: no entry 11"));
