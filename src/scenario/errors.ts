import { distance } from "fastest-levenshtein";
import type { z } from "zod";
import type { JsonFault } from "./json-text.ts";
import { keysAt } from "./known-keys.ts";
import type { ScenarioError } from "./model.ts";
import { formatPath, type Path, valueAt } from "./path.ts";

/** A value as people recognise it in their file. */
function shown(value: unknown): string {
	if (value === undefined) return "nothing";
	const text = JSON.stringify(value) ?? String(value);
	return text.length > 60 ? `${text.slice(0, 57)}...` : text;
}

export function scenarioError(path: string, value: unknown, expected: string, hint = ""): ScenarioError {
	const text = shown(value);
	const tail = hint === "" ? "" : ` (${hint})`;
	return {
		path,
		value: text,
		expected,
		hint,
		message: `${path === "" ? "the file" : path}: ${text}, expected ${expected}${tail}`,
	};
}

export function faultError({ line, column, found, expected, hint }: JsonFault): ScenarioError {
	const tail = hint === "" ? "" : ` (${hint})`;
	return {
		path: "",
		value: found,
		expected,
		hint,
		message: `line ${line}, column ${column}: ${found === '"' ? "a quote" : `'${found}'`}, expected ${expected}${tail}`,
	};
}

/** What the schema found, one error for each thing wrong. */
export function fromIssues(
	issues: readonly z.core.$ZodIssue[],
	document: unknown,
	schema: z.ZodType,
): ScenarioError[] {
	return issues.flatMap((issue) => fromIssue(issue, [], document, schema));
}

function fromIssue(
	issue: z.core.$ZodIssue,
	above: Path,
	document: unknown,
	schema: z.ZodType,
): ScenarioError[] {
	const path = [...above, ...(issue.path as Path)];
	const value = valueAt(document, path);
	if (issue.code === "unrecognized_keys")
		return issue.keys.map((key) => unknownKey(key, path, document, schema));
	if (issue.code === "invalid_union") {
		const inner = bestOption(issue, value);
		if (inner !== null) return inner.flatMap((each) => fromIssue(each, path, document, schema));
	}
	const hint = issue.code === "custom" ? String(issue.params?.["hint"] ?? "") : nearWord(issue, value);
	return [scenarioError(formatPath(path), value, issue.message, hint)];
}

/** The option that a group was meant for: an error deeper inside says more than 'none of these'. */
function bestOption(issue: z.core.$ZodIssueInvalidUnion, value: unknown): readonly z.core.$ZodIssue[] | null {
	if (value === null || typeof value !== "object") {
		const custom = issue.errors.find((option) => option.every((each) => each.code === "custom"));
		return custom !== undefined && custom.length > 0 && typeof value === "number" ? custom : null;
	}
	return (
		issue.errors.find((option) =>
			option.every((each) => each.path.length > 0 || each.code === "unrecognized_keys"),
		) ?? null
	);
}

function unknownKey(key: string, path: Path, document: unknown, schema: z.ZodType): ScenarioError {
	const known = keysAt(schema, path, document);
	const match = nearestKey(key, known);
	return scenarioError(
		formatPath([...path, key]),
		valueAt(document, [...path, key]),
		`one of the keys ${known.join(", ")}`,
		match !== null ? `'${key}' is not known; did you mean '${match}'?` : `'${key}' is not known`,
	);
}

/** The word that a wrong one was most likely meant for; empty where none is near. */
function nearWord(issue: z.core.$ZodIssue, value: unknown): string {
	if (typeof value !== "string") return "";
	const known = wordsOf(issue).filter((word) => typeof word === "string");
	const match = nearestKey(value, known, value.length - 1);
	return match === null ? "" : `did you mean "${match}"?`;
}

/** What may stand there, as far as it is one of a few words. */
function wordsOf(issue: z.core.$ZodIssue): readonly unknown[] {
	if (issue.code === "invalid_value") return issue.values;
	if (issue.code !== "invalid_union") return [];
	const { options } = issue as { readonly options?: readonly unknown[] };
	return [...(options ?? []), ...issue.errors.flat().flatMap(wordsOf)];
}

/** The known key with the fewest letters to change, of those the one nearest in length; null where none is near, or all differ in more than `most`. */
function nearestKey(key: string, known: readonly string[], most = Number.POSITIVE_INFINITY): string | null {
	const lower = key.toLowerCase();
	let best: { name: string; cost: number } | null = null;
	for (const name of known) {
		const letters = distance(lower, name.toLowerCase());
		const cost = letters + 0.01 * Math.abs(name.length - key.length);
		const near = letters <= Math.min(most, Math.max(2, Math.floor(key.length / 3)));
		if (near && (best === null || cost < best.cost)) best = { name, cost };
	}
	return best?.name ?? null;
}
