import { expect, it } from "vitest";
import { eventFields } from "../../../../src/ui/places/proof/event-kinds.ts";

it("offers where a load stands before it is taken up, written or not", () => {
	expect(eventFields({ kind: "takeUp", at: "1 s", held: "grip" })).toEqual([
		{ key: "at", value: "1 s", about: "" },
		{ key: "held", value: "grip", about: "grip or frame" },
		{ key: "from", value: undefined, about: "rest or ground" },
	]);
	expect(eventFields({ kind: "letGo", at: "2 s" })).toEqual([{ key: "at", value: "2 s", about: "" }]);
});
