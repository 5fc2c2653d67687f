import { z } from "zod";
import { scenarioSchema } from "./schema.ts";

/** The JSON Schema of scenario files as the text of docs/scenario.schema.json. */
export function jsonSchemaText(): string {
	const schema = z.toJSONSchema(scenarioSchema, { io: "input" });
	return `${JSON.stringify({ ...schema, title: "Levelhead scenario" }, null, "\t")}\n`;
}
