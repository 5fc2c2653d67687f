import type { z } from "zod";
import { craftSchema } from "./craft-schema.ts";
import { type ScenarioInput, scenarioSchema } from "./schema.ts";

/**
 * What each group or list of a document was read as. A sweep's documents share all groups but those on the changed
 * path (`setAt` copies nothing else), so that only those are read again.
 */
const memory = new WeakMap<object, unknown>();

type Shape = { readonly [key: string]: z.ZodType };
type Issue = z.core.$ZodIssue;

type Read =
	| { readonly input: ScenarioInput; readonly issues: null }
	| { readonly input: null; readonly issues: readonly Issue[] };

const isGroup = (value: unknown): value is { readonly [key: string]: unknown } =>
	value !== null && typeof value === "object" && !Array.isArray(value);

/** As the whole schema reads it, but section by section (the top level and the craft). */
export function readSections(document: unknown): Read {
	if (!isGroup(document) || !isGroup(document["craft"])) {
		const { data, error } = scenarioSchema.safeParse(document);
		return error === undefined ? { input: data, issues: null } : { input: null, issues: error.issues };
	}
	const issues: Issue[] = [];
	const { craft: _, ...others } = scenarioSchema.shape;
	const top = readEach({ ...others, craft: null }, document, [], issues);
	const craft = readEach(craftSchema.shape, document["craft"], ["craft"], issues);
	if (issues.length > 0) return { input: null, issues };
	return { input: { ...top, craft } as ScenarioInput, issues: null };
}

/** A key whose schema is null is known, but read elsewhere. */
function readEach(
	shape: { readonly [key: string]: Shape[string] | null },
	group: { readonly [key: string]: unknown },
	path: readonly string[],
	issues: Issue[],
): object {
	const unknown = Object.keys(group).filter((key) => !Object.hasOwn(shape, key));
	if (unknown.length > 0)
		issues.push({
			code: "unrecognized_keys",
			keys: unknown,
			path: [...path],
			message: "",
			input: group,
		});
	const read: { [key: string]: unknown } = {};
	for (const [key, schema] of Object.entries(shape)) {
		if (schema === null) continue;
		const value = Object.hasOwn(group, key) ? group[key] : undefined;
		const keep = value !== null && typeof value === "object";
		if (keep && memory.has(value)) {
			read[key] = memory.get(value);
			continue;
		}
		const { data, error } = schema.safeParse(value);
		if (error !== undefined)
			issues.push(...error.issues.map((issue) => ({ ...issue, path: [...path, key, ...issue.path] })));
		else if (data !== undefined) {
			read[key] = data;
			if (keep) memory.set(value, data);
		}
	}
	return read;
}
