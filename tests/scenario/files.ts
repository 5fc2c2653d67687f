import { readdirSync, readFileSync } from "node:fs";
import { loadScenario } from "../../src/scenario/load.ts";
import type { Scenario, ScenarioError } from "../../src/scenario/model.ts";

const ROOT = new URL("../../", import.meta.url);

/** Every good file there is: shipped ones and fixtures; name and text. */
export const GOOD_FILES: readonly (readonly [string, string])[] = [
	...readdirSync(new URL("scenarios/", ROOT))
		.filter((file) => file.endsWith(".json"))
		.map((file) => `scenarios/${file}`),
	"tests/fixtures/ten-lines.json",
	"tests/fixtures/large-hex.json",
].map((file) => [file, readFileSync(new URL(file, ROOT), "utf8")] as const);

export function textOf(name: string): string {
	return GOOD_FILES.find(([file]) => file.endsWith(`${name}.json`))![1];
}

export function good(text: string): Scenario {
	const result = loadScenario(text);
	if (!result.ok) throw new Error(result.errors.map((e) => e.message).join("\n"));
	return result.scenario;
}

export function bad(text: string): readonly ScenarioError[] {
	const result = loadScenario(text);
	if (result.ok) throw new Error("expected errors, the file was accepted");
	return result.errors;
}

export type Json = null | boolean | number | string | Json[] | { [key: string]: Json };

/** Every value inside a document that is not a group or a list, with its path. */
export function leaves(value: Json, path: readonly (string | number)[] = []): [(string | number)[], Json][] {
	if (value === null || typeof value !== "object") return [[[...path], value]];
	return Object.entries(value).flatMap(([key, each]) =>
		leaves(each, [...path, Array.isArray(value) ? Number(key) : key]),
	);
}
