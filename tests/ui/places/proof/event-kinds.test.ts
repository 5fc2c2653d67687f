import { readFileSync } from "node:fs";
import { expect, it } from "vitest";
import { eventFields, eventKinds } from "../../../../src/ui/places/proof/event-kinds.ts";
import { done, readState } from "../../commands/on-demo.ts";

it("offers where a load stands before it is taken up, written or not", () => {
	expect(eventFields({ kind: "takeUp", at: "1 s", held: "grip" })).toEqual([
		{ key: "at", value: "1 s", about: "" },
		{ key: "held", value: "grip", about: "grip or frame" },
		{ key: "from", value: undefined, about: "rest or ground" },
	]);
	expect(eventFields({ kind: "makeSafe", at: "2 s" })).toEqual([{ key: "at", value: "2 s", about: "" }]);
});

/** Every kind of event that the file's schema names. */
function kindsOfSchema(): string[] {
	const text = readFileSync(new URL("../../../../docs/scenario.schema.json", import.meta.url), "utf8");
	const { properties } = JSON.parse(text);
	const { anyOf, oneOf } = properties.drills.items.properties.events.items;
	return (anyOf ?? oneOf).map(
		(each: { properties: { kind: { const: string } } }) => each.properties.kind.const,
	);
}

it("offers every event that a file may have, those of a limb where there is one", () => {
	const { craft } = readState(done());
	const all = kindsOfSchema();
	expect(all.length).toBeGreaterThan(20);
	expect(
		eventKinds(craft)
			.map(({ kind }) => kind)
			.sort(),
	).toEqual([...all].sort());
	const bare = eventKinds({ ...craft, limb: undefined }).map(({ kind }) => kind);
	expect(bare.sort()).toEqual(all.filter((kind) => kind !== "limb" && kind !== "stuckGrip").sort());
	expect(eventKinds(craft).find(({ kind }) => kind === "limb")!.first["link"]).toBe("boom");
});
