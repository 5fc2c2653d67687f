import { z } from "zod";
import { craftSchema } from "./craft-schema.ts";
import { type ScenarioInput, scenarioSchema } from "./schema.ts";

/**
 * What each group, list or plain value of a document was read as, by the schema that read it. A sweep's documents share all groups
 * but those on the changed path (`setAt` copies nothing else), so that only the changed values are read again.
 */
const groups = new WeakMap<z.ZodType, WeakMap<object, unknown>>();
const plain = new WeakMap<z.ZodType, Map<unknown, unknown>>();
/** Of one schema. */
const MOST_PLAIN = 200;

type Shape = { readonly [key: string]: z.ZodType };
type Issue = z.core.$ZodIssue;

type Read =
	| { readonly input: ScenarioInput; readonly issues: null }
	| { readonly input: null; readonly issues: readonly Issue[] };

type Group = { readonly [key: string]: unknown };
const isGroup = (value: unknown): value is Group =>
	value !== null && typeof value === "object" && !Array.isArray(value);

/** As the whole schema reads it, but section by section (the top level and the craft). */
export function readSections(document: unknown): Read {
	if (!isGroup(document) || !isGroup(document["craft"])) {
		const { data, error } = scenarioSchema.safeParse(document);
		return error === undefined ? { input: data, issues: null } : { input: null, issues: error.issues };
	}
	const issues: Issue[] = [];
	const top = readKeys(TOP, document, issues);
	const craft = within(issues, "craft", () => {
		const group = document["craft"] as Group;
		return remembered(craftSchema, group, issues, () => readKeys(CRAFT, group, issues));
	});
	if (issues.length > 0) return { input: null, issues };
	return { input: { ...top, craft } as ScenarioInput, issues: null };
}

interface Key {
	readonly name: string;
	/** Null: known, but read elsewhere. */
	readonly schema: z.ZodType | null;
	/** Whether the schema says nothing of a value that is not there. */
	readonly mayBeMissing: boolean;
}

function keysOf(shape: Shape, elsewhere = ""): readonly Key[] {
	return Object.entries(shape).map(([name, schema]) => ({
		name,
		schema: name === elsewhere ? null : schema,
		mayBeMissing: schema.safeParse(undefined).success,
	}));
}

const TOP = keysOf(scenarioSchema.shape, "craft");
const CRAFT = keysOf(craftSchema.shape);

function readKeys(keys: readonly Key[], group: Group, issues: Issue[]): object {
	const unknown = Object.keys(group).filter((name) => !keys.some((key) => key.name === name));
	if (unknown.length > 0)
		issues.push({ code: "unrecognized_keys", keys: unknown, path: [], message: "", input: group });
	const read: { [key: string]: unknown } = {};
	for (const { name, schema, mayBeMissing } of keys) {
		if (schema === null) continue;
		const value = Object.hasOwn(group, name) ? group[name] : undefined;
		if (value === undefined && mayBeMissing) continue;
		const before = issues.length;
		const data = within(issues, name, () => readValue(schema, value, issues));
		if (issues.length === before && data !== undefined) read[name] = data;
	}
	return read;
}

/** What is found inside a key or an entry has it in front of its path. */
function within<T>(issues: Issue[], key: PropertyKey, read: () => T): T {
	const before = issues.length;
	const data = read();
	for (let i = before; i < issues.length; i++) issues[i] = { ...issues[i]!, path: [key, ...issues[i]!.path] };
	return data;
}

function readValue(schema: z.ZodType, value: unknown, issues: Issue[]): unknown {
	return remembered(schema, value, issues, () =>
		value !== null && typeof value === "object"
			? readNew(schema, value, issues)
			: parsed(schema, value, issues),
	);
}

/** As `read` found it, or as it did before; nothing is remembered of what has issues. */
function remembered<T>(schema: z.ZodType, value: unknown, issues: readonly Issue[], read: () => T): T {
	const memory = memoryOf(schema, value);
	const known = memory?.get(value) as T | undefined;
	if (known !== undefined) return known;
	const before = issues.length;
	const data = read();
	if (issues.length === before) memory?.set(value, data);
	return data;
}

interface Memory {
	get(value: unknown): unknown;
	set(value: unknown, data: unknown): unknown;
}

/** A map takes -0 for 0. */
function memoryOf(schema: z.ZodType, value: unknown): Memory | null {
	if (value !== null && typeof value === "object") return entryOf(groups, schema, newGroups) as Memory;
	if (value === undefined || Object.is(value, -0)) return null;
	const memory = entryOf(plain, schema, newPlain);
	if (memory.size >= MOST_PLAIN) memory.clear();
	return memory;
}

const newGroups = () => new WeakMap<object, unknown>();
const newPlain = () => new Map<unknown, unknown>();

function entryOf<K extends object, V>(memory: WeakMap<K, V>, key: K, make: (key: K) => V): V {
	let known = memory.get(key);
	if (known === undefined) {
		known = make(key);
		memory.set(key, known);
	}
	return known;
}

/** A list of groups entry by entry, once the whole of it fits, and a group key by key; anything else at once. */
function readNew(schema: z.ZodType, value: object, issues: Issue[]): unknown {
	const { list, keys } = entryOf(insides, schema, inside);
	if (list !== null && Array.isArray(value)) {
		const before = issues.length;
		parsed(list.whole, value, issues);
		if (issues.length > before) return undefined;
		return value.map((each, i) => within(issues, i, () => readValue(list.entry, each, issues)));
	}
	if (keys !== null && isGroup(value)) {
		const found: Issue[] = [];
		const data = readKeys(keys, value, found);
		if (found.length === 0) return data;
	}
	return parsed(schema, value, issues);
}

interface Inside {
	/** Of a list of groups: the list with whatever entries, and an entry. */
	readonly list: { readonly whole: z.ZodType; readonly entry: z.ZodType } | null;
	/** Of a group. */
	readonly keys: readonly Key[] | null;
}

const insides = new WeakMap<z.ZodType, Inside>();

function inside(schema: z.ZodType): Inside {
	const inner = schema instanceof z.ZodOptional ? schema.unwrap() : schema;
	if (inner instanceof z.ZodArray && inner.element instanceof z.ZodObject) {
		const whole = z.core.clone(inner, { ...inner.def, element: z.unknown() });
		return { list: { whole, entry: inner.element }, keys: null };
	}
	const isPlain = inner instanceof z.ZodObject && (inner.def.checks ?? []).length === 0;
	return { list: null, keys: isPlain ? keysOf(inner.shape as Shape) : null };
}

function parsed(schema: z.ZodType, value: unknown, issues: Issue[]): unknown {
	const { data, error } = schema.safeParse(value);
	if (error !== undefined) issues.push(...error.issues);
	return data;
}
