import { expect, it } from "vitest";
import { renamePart } from "../../../src/ui/commands/rename-part.ts";
import { craftOf, done, partsOf, readState } from "./on-demo.ts";

it("names a part, and the link that moves it follows", () => {
	const at = partsOf(done()).findIndex((each) => each["name"] === "limb: scoop");
	const state = done(renamePart(at, "bucket"));
	expect(partsOf(state)[at]!["name"]).toBe("bucket");
	const { links } = craftOf(state)["limb"] as { links: { parts: string[] }[] };
	expect(links.map((each) => each.parts)).toEqual([["limb: boom, folded below"], ["bucket"]]);
	expect(readState(state).craft.limb?.links[1]?.mass).toEqual(readState(done()).craft.limb?.links[1]?.mass);
});
