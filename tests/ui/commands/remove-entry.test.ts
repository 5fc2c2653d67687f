import { expect, it } from "vitest";
import { removeEntry } from "../../../src/ui/commands/remove-entry.ts";
import { setValue } from "../../../src/ui/commands/set-value.ts";
import { craftOf, done, partsOf } from "./on-demo.ts";

it("takes one entry out", () => {
	const names = partsOf(done(removeEntry("craft.parts", 1))).map((each) => each["name"]);
	expect(names).toHaveLength(10);
	expect(names).not.toContain("battery");
});
it("with the last one the list goes", () => {
	const state = done(setValue("craft.parts", [{ name: "all" }]), removeEntry("craft.parts", 0));
	expect(craftOf(state)).not.toHaveProperty("parts");
});
it("refuses an entry that is not there", () =>
	expect(() => done(removeEntry("craft.parts", 11))).toThrow("craft.parts: no entry 11, expected one of 11"));
