import type { LoadResult } from "./model.ts";

/** Reads a scenario file. */
export function loadScenario(_text: string): LoadResult {
	throw new Error("loadScenario: body missing");
}

/** The same for a document already parsed from JSON. */
export function loadDocument(_document: unknown): LoadResult {
	throw new Error("loadDocument: body missing");
}

/**
 * A copy of a document with one value set by path, such as `craft.mass` or `gainSets.A.roll.kp` (list entries by
 * index or by their name); missing levels are created. Follow with `loadDocument`.
 */
export function withValue(_document: unknown, _path: string, _value: unknown): unknown {
	throw new Error("withValue: body missing");
}
