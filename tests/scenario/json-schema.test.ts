import { readFileSync } from "node:fs";
import { expect, it } from "vitest";
import { jsonSchemaText } from "../../src/scenario/json-schema.ts";

const FILE = new URL("../../docs/scenario.schema.json", import.meta.url);

it("docs/scenario.schema.json is current (else: node --import tsx docs/make/scenario-schema.ts)", () => {
	expect(readFileSync(FILE, "utf8")).toBe(jsonSchemaText());
});

it("lets through only known keys and describes what it wants", () => {
	const schema = JSON.parse(jsonSchemaText()) as {
		additionalProperties: boolean;
		required: string[];
		properties: { craft: { additionalProperties: boolean; properties: { mass: { description: string } } } };
	};
	expect(schema.additionalProperties).toBe(false);
	expect(schema.properties.craft.additionalProperties).toBe(false);
	expect(schema.required).toEqual(["levelhead", "craft"]);
	expect(schema.properties.craft.properties.mass.description).toContain('"1.9 kg"');
});
