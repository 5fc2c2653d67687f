import { expect, it } from "vitest";
import { renameLink } from "../../../src/ui/commands/rename-link.ts";
import { done, readState } from "./on-demo.ts";

it("names a link, and the drills that move it follow", () => {
	const state = done(renameLink(0, "upper boom"));
	const { craft, drills } = readState(state);
	expect(craft.limb?.links.map((each) => each.name)).toEqual(["upper boom", "scoop"]);
	const text = JSON.stringify(state.document["drills"]);
	expect(text).toContain('"link":"upper boom"');
	expect(text).not.toContain('"link":"boom"');
	expect(drills).toEqual(readState(done()).drills);
});
it("refuses a link that is not there", () =>
	expect(() => done(renameLink(2, "third"))).toThrow("craft.limb.links: no entry 2, expected one of 2"));
