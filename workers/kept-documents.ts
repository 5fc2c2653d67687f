import { migrate } from "../src/scenario/migrate.ts";

type Group = Readonly<Record<string, unknown>>;

/** A section as it was made, with its text. */
interface Kept {
	readonly text: string;
	readonly value: unknown;
}

/**
 * Documents of texts that differ in little, one after the other: every section, and every part of the craft, that reads as it did in
 * the one before is the same object, and so whatever was made of it is found again.
 */
export function createDocuments(): (text: string) => Group {
	let last: { readonly text: string; readonly document: Group } | null = null;
	const sections = new Map<string, Kept>();
	const kept = (path: string, value: unknown): unknown => {
		const text = JSON.stringify(value);
		const before = sections.get(path);
		if (before?.text === text) return before.value;
		sections.set(path, { text, value });
		return value;
	};
	const each = (path: string, group: Group): Group =>
		Object.fromEntries(Object.entries(group).map(([key, value]) => [key, kept(`${path}.${key}`, value)]));
	return (text) => {
		if (last?.text === text) return last.document;
		const whole = migrate(JSON.parse(text)) as Group;
		const { craft } = whole;
		const document = each("", isGroup(craft) ? { ...whole, craft: each(".craft", craft) } : whole);
		last = { text, document };
		return document;
	};
}

const isGroup = (value: unknown): value is Group =>
	value !== null && typeof value === "object" && !Array.isArray(value);
