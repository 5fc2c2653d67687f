import { expect, it } from "vitest";
import { jsonSchemaText } from "../../src/scenario/json-schema.ts";

it("docs/scenario.schema.json is current (to write it anew: npx vitest run tests/scenario/json-schema.test.ts -u)", async () => {
	await expect(jsonSchemaText()).toMatchFileSnapshot("../../docs/scenario.schema.json");
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
