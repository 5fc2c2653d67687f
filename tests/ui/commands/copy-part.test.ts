import { expect, it } from "vitest";
import { copyPart } from "../../../src/ui/commands/copy-part.ts";
import { done, partsOf, readState } from "./on-demo.ts";

it("puts the same part behind it under a free name", () => {
	const state = done(copyPart(1), copyPart(1));
	expect(
		partsOf(state)
			.slice(1, 4)
			.map((each) => each["name"]),
	).toEqual(["battery", "battery 3", "battery 2"]);
	expect(readState(state).craft.bare.massKg - readState(done()).craft.bare.massKg).toBeCloseTo(1.12, 12);
});
