import { z } from "zod";
import { checkSchema } from "./check.ts";
import { compareSchema } from "./compare.ts";
import { firstMinuteSchema, stallsSchema } from "./first-minute.ts";
import { flySchema } from "./fly.ts";
import { loopSchema } from "./loop.ts";
import { marginsSchema } from "./margins.ts";
import { reachSchema } from "./reach.ts";
import { sweepSchema } from "./sweep.ts";
import { tuneSchema } from "./tune.ts";
import { wrongBuildsSchema } from "./wrong-builds.ts";

/** What each verb prints with --json. */
export const SCHEMAS = {
	check: checkSchema,
	"check-wrong-builds": wrongBuildsSchema,
	"check-first-minute": firstMinuteSchema,
	"check-stalls": stallsSchema,
	"check-reach": reachSchema,
	tune: tuneSchema,
	fly: flySchema,
	margins: marginsSchema,
	sweep: sweepSchema,
	compare: compareSchema,
	loop: loopSchema,
} as const;

export type SchemaName = keyof typeof SCHEMAS;

/** The text of docs/json/<verb>.schema.json. */
export function schemaText(name: SchemaName): string {
	const schema = z.toJSONSchema(SCHEMAS[name], { io: "output" });
	return `${pretty({ ...schema, title: `levelhead ${name.replace("check-", "check --")} --json` }, 0)}\n`;
}

const LINE = 110;

/** As the formatter has it: tabs two wide, every object broken, lists of plain values on one line where they fit. */
function pretty(value: unknown, depth: number, before = 0): string {
	const inner = "\t".repeat(depth + 1);
	const end = `\n${"\t".repeat(depth)}`;
	if (Array.isArray(value)) {
		const flat = `[${value.map((each) => JSON.stringify(each)).join(", ")}]`;
		if (value.every((each) => typeof each !== "object") && 2 * depth + before + flat.length + 1 <= LINE)
			return flat;
		if (value.length === 0) return "[]";
		return `[\n${value.map((each) => inner + pretty(each, depth + 1)).join(",\n")}${end}]`;
	}
	if (typeof value !== "object" || value === null) return JSON.stringify(value);
	const entries = Object.entries(value);
	if (entries.length === 0) return "{}";
	return `{\n${entries.map(([key, each]) => `${inner}${JSON.stringify(key)}: ${pretty(each, depth + 1, key.length + 4)}`).join(",\n")}${end}}`;
}
