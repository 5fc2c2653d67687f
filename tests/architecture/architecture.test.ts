import { readdirSync, readFileSync } from "node:fs";
import { join, relative, sep } from "node:path";
import { fileURLToPath } from "node:url";
import { expect, test } from "vitest";
import { check } from "./checker.ts";

const root = fileURLToPath(new URL("../..", import.meta.url));

/** Every source of the house as repository path and text. */
function house(): Map<string, string> {
	const sources = new Map<string, string>();
	for (const room of ["src", "workers"])
		for (const entry of readdirSync(join(root, room), { recursive: true, withFileTypes: true })) {
			if (!entry.isFile() || !/\.(tsx?|mjs)$/.test(entry.name)) continue;
			const path = join(entry.parentPath, entry.name);
			sources.set(relative(root, path).split(sep).join("/"), readFileSync(path, "utf8"));
		}
	return sources;
}

test("imports point down, nothing goes round, nothing below the command line touches clock, dice or machine", () => {
	const sources = house();
	expect(sources.size).toBeGreaterThan(10);
	expect(check(sources).map((v) => `${v.path}:${v.line} ${v.rule}: ${v.detail}`)).toEqual([]);
});
