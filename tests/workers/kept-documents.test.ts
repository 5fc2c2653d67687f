import { expect, test } from "vitest";
import { createDocuments } from "../../workers/kept-documents.ts";
import { textOf } from "../scenario/files.ts";

type Group = Readonly<Record<string, unknown>>;

test("what reads the same is the same object, what was changed is read anew", () => {
	const documentOf = createDocuments();
	const text = textOf("sandpiper");
	const first = documentOf(text);
	expect(first).toEqual(JSON.parse(text));
	expect(documentOf(text)).toBe(first);
	const changed = JSON.parse(text);
	changed.gainSets[0].roll.kp = 0.123;
	const gains = documentOf(JSON.stringify(changed));
	expect(gains).toEqual(changed);
	expect(gains["craft"]).toBe(first["craft"]);
	changed.craft.motors.lag = "61 ms";
	const craft = documentOf(JSON.stringify(changed));
	expect(craft).toEqual(changed);
	expect(craft["gainSets"]).toBe(gains["gainSets"]);
	expect(craft["craft"]).not.toBe(first["craft"]);
	expect((craft["craft"] as Group)["sensors"]).toBe((first["craft"] as Group)["sensors"]);
});

test("a section that is gone is gone", () => {
	const documentOf = createDocuments();
	const { drills, ...rest } = JSON.parse(textOf("sandpiper"));
	expect(drills).toBeDefined();
	documentOf(textOf("sandpiper"));
	expect(documentOf(JSON.stringify(rest))).toEqual(rest);
});
