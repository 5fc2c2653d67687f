import { expect, test } from "vitest";
import { SCHEMAS, type SchemaName, schemaText } from "../../src/report/json/schemas.ts";

test.each(Object.keys(SCHEMAS) as SchemaName[])(
	"docs/json/%s.schema.json is current (to write it anew: npx vitest run tests/cli/schemas.test.ts -u)",
	async (name) => {
		await expect(schemaText(name)).toMatchFileSnapshot(`../../docs/json/${name}.schema.json`);
	},
);

test.each(Object.keys(SCHEMAS) as SchemaName[])(
	"%s allows only the keys that it names, and all of them are there",
	(name) => {
		const loose: string[] = [];
		const walk = (schema: unknown, path: string): void => {
			if (typeof schema !== "object" || schema === null) return;
			const { properties, required, additionalProperties } = schema as Record<string, unknown>;
			if (properties) {
				if (additionalProperties !== false) loose.push(`${path} lets other keys through`);
				if (Object.keys(properties).length !== (required as unknown[] | undefined)?.length)
					loose.push(`${path} has keys that may be absent`);
			}
			for (const [key, each] of Object.entries(schema)) walk(each, `${path}/${key}`);
		};
		walk(JSON.parse(schemaText(name)), "");
		expect(loose).toEqual([]);
	},
);
