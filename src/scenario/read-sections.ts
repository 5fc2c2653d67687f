import { z } from "zod";
import { craftSchema } from "./craft-schema.ts";
import { type ScenarioInput, scenarioSchema } from "./schema.ts";

/**
 * What each group or list of a document was read as, by the schema that read it. A sweep's documents share all groups
 * but those on the changed path (`setAt` copies nothing else), so that only those are read again.
 */
const memory = new WeakMap<z.ZodType, WeakMap<object, unknown>>();

/** Schemas that say nothing of a value that is not there. */
const optional = new WeakMap<z.ZodType, boolean>();

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
		if (value === undefined && mayBeMissing(schema)) continue;
		const before = issues.length;
		const data = readValue(schema, value, [...path, key], issues);
		if (issues.length === before && data !== undefined) read[key] = data;
	}
	return read;
}

function mayBeMissing(schema: z.ZodType): boolean {
	let known = optional.get(schema);
	if (known === undefined) {
		known = schema.safeParse(undefined).success;
		optional.set(schema, known);
	}
	return known;
}

function readValue(schema: z.ZodType, value: unknown, path: Issue["path"], issues: Issue[]): unknown {
	if (value === null || typeof value !== "object") return parsed(schema, value, path, issues);
	let known = memory.get(schema);
	if (known === undefined) {
		known = new WeakMap();
		memory.set(schema, known);
	}
	if (known.has(value)) return known.get(value);
	const before = issues.length;
	const data = readNew(schema, value, path, issues);
	if (issues.length === before) known.set(value, data);
	return data;
}

/** A list of groups entry by entry, once the whole of it fits; anything else at once. */
function readNew(schema: z.ZodType, value: object, path: Issue["path"], issues: Issue[]): unknown {
	const list = listOf(schema);
	if (list === null || !Array.isArray(value)) return parsed(schema, value, path, issues);
	const before = issues.length;
	parsed(list.whole, value, path, issues);
	if (issues.length > before) return undefined;
	return value.map((each, i) => readValue(list.entry, each, [...path, i], issues));
}

interface ListSchemas {
	/** The list with whatever entries. */
	readonly whole: z.ZodType;
	readonly entry: z.ZodType;
}

const lists = new WeakMap<z.ZodType, ListSchemas | null>();

function listOf(schema: z.ZodType): ListSchemas | null {
	let known = lists.get(schema);
	if (known === undefined) {
		const inner = schema instanceof z.ZodOptional ? schema.unwrap() : schema;
		known =
			inner instanceof z.ZodArray && inner.element instanceof z.ZodObject
				? { whole: z.core.clone(inner, { ...inner.def, element: z.unknown() }), entry: inner.element }
				: null;
		lists.set(schema, known);
	}
	return known;
}

function parsed(schema: z.ZodType, value: unknown, path: Issue["path"], issues: Issue[]): unknown {
	const { data, error } = schema.safeParse(value);
	if (error !== undefined)
		issues.push(...error.issues.map((issue) => ({ ...issue, path: [...path, ...issue.path] })));
	return data;
}
