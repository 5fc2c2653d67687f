import { describe, expect, test } from "vitest";
import { check, type Violation } from "./checker.ts";

/** What the checker says about planted files. */
const rules = (files: Record<string, string>): string[] =>
	check(new Map(Object.entries(files))).map((v: Violation) => `${v.rule} ${v.path}:${v.line}`);

const one = (source: string, path = "src/physics/a.ts") =>
	check(new Map([[path, source]])).map((v) => `${v.rule} ${v.detail}`);

describe("clean sources pass", () => {
	test("imports down, shadowed names and members", () => {
		expect(
			rules({
				"src/math/v.ts": "export type V = number; export const v = Math.hypot(1, 2) + Number.EPSILON;",
				"src/flight/f.ts": [
					'import { type V, v } from "../math/v.ts";',
					"export interface Window { readonly document: V; process(event: V): void }",
					"export function f(document: V, { screen = v }: { screen?: V }): Record<string, V> {",
					"	const process = [document, screen].map((window) => window);",
					"	for (const name of process) if (name > 1) return { location: name };",
					"	try { return { Date: v }; } catch (error) { throw error; }",
					"}",
					"export type Deep<T> = T extends readonly (infer U)[] ? Deep<U> : { [K in keyof T]: T[K] };",
					"export class Store<T> { private document: T; constructor(x: T) { this.document = x; } fetch() { return this.document; } }",
				].join("\n"),
				"src/cli/v.ts":
					'import settings from "../../package.json" with { type: "json" }; export const v = settings;',
				"src/cli/c.ts":
					'import { f } from "../flight/f.ts"; export const now = [Date.now(), Math.random(), process.argv, f];',
			}),
		).toEqual([]);
	});
});

describe("direction", () => {
	test("an import from above", () => {
		expect(
			rules({
				"src/math/a.ts": '\nimport { x } from "../craft/x.ts"; export const y = x;',
				"src/craft/x.ts": "export const x = 1;",
			}),
		).toEqual(["direction src/math/a.ts:2"]);
	});
	test("a type import, a re-export, a dynamic import and an import type count too", () => {
		const x = { "src/flight/x.ts": "export type X = 1; export const x = 1;" };
		for (const source of [
			'import type { X } from "../flight/x.ts"; export type Y = X;',
			'export { x } from "../flight/x.ts";',
			'export * from "../flight/x.ts";',
			'export const y = () => import("../flight/x.ts");',
			'export type Y = import("../flight/x.ts").X;',
		])
			expect(rules({ ...x, "src/physics/a.ts": source }), source).toEqual(["direction src/physics/a.ts:1"]);
	});
	test("neighbours of one layer", () => {
		const craft = { "src/craft/x.ts": "export const x = 1;" };
		expect(rules({ ...craft, "src/control/a.ts": 'export { x } from "../craft/x.ts";' })).toEqual([
			"direction src/control/a.ts:1",
		]);
		expect(
			rules({ "src/ode/x.ts": "export const x = 1;", "src/craft/a.ts": 'export { x } from "../ode/x.ts";' }),
		).toEqual(["direction src/craft/a.ts:1"]);
	});
	test("tests and files outside the house", () => {
		expect(one('export { x } from "../../tests/fixtures/x.ts";')).toEqual([
			"missing ../../tests/fixtures/x.ts is not a file of the project",
			"direction src/physics may not import tests/fixtures/x.ts",
		]);
		expect(one("export const a = 1;", "src/attic/a.ts")).toEqual(["layer belongs to no layer"]);
		expect(one("export const a = (x: string) => import(x);", "src/cli/a.ts")[0]).toMatch(/^missing/);
	});
});

describe("cycles", () => {
	test("two files and three files", () => {
		expect(
			check(
				new Map([
					["src/math/a.ts", 'import type { B } from "./b.ts"; export type A = B;'],
					["src/math/b.ts", 'import type { A } from "./a.ts"; export type B = A;'],
				]),
			).map((v) => v.detail),
		).toEqual(["src/math/a.ts -> src/math/b.ts -> src/math/a.ts"]);
		expect(
			rules({
				"src/math/a.ts": 'export * from "./b.ts";',
				"src/math/b.ts": 'export * from "./c.ts";',
				"src/math/c.ts": 'export * from "./b.ts"; export const c = 1;',
			}),
		).toEqual(["cycle src/math/b.ts:1"]);
	});
});

describe("globals", () => {
	test.each([
		["export const a = window.innerWidth;", "window"],
		["export const a = document.title;", "document"],
		["export function f(e: HTMLElement) { return e; }", "HTMLElement"],
		["export const a = typeof localStorage;", "localStorage"],
		["export const a = Date.now();", "Date"],
		["export const a = new Date();", "Date"],
		["export const a = Math.random();", "Math.random"],
		["const { random } = Math; export const a = random();", "Math taken whole"],
		['export const a = Math["random"]();', "Math taken whole"],
		["export const a = process.env;", "process"],
		["export const a = performance.now();", "performance"],
		["export const a = crypto.getRandomValues;", "crypto"],
		["export const a = globalThis;", "globalThis"],
		["export const a = () => setTimeout(() => {}, 1);", "setTimeout"],
		["export const a = fetch;", "fetch"],
		["export const a = { process };", "process"],
		["export const a = { [process]: 1 };", "process"],
		["console.log(1);", "console"],
		["{ const Date = 1; Date; } export const a = Date;", "Date"],
	])("%s", (source, name) => {
		expect(one(source)).toEqual([`global ${name}`]);
	});
	test("no DOM name in the command line and the workers either", () => {
		expect(one("export const a = document;", "src/cli/a.ts")).toEqual(["global document"]);
		expect(one("export const a = self;", "workers/a.ts")).toEqual(["global self"]);
	});
	test("no files and no process modules below the command line", () => {
		expect(one('import { readFileSync } from "node:fs"; export const a = readFileSync;')).toEqual([
			"machine node:fs below the command line",
		]);
	});
});

test("a package outside its rooms", () => {
	expect(one('import "commander";')).toEqual(["package src/physics may not import package commander"]);
	expect(one('import "@scope/thing/deep";', "src/cli/a.ts")).toEqual([
		"package src/cli may not import package @scope/thing",
	]);
});

test("a syntax error is not passed over", () => {
	expect(one("export const = 1;")[0]).toMatch(/^parse /);
});

describe("the page", () => {
	const inPage = (text: string, path = "src/ui/a.tsx") =>
		check(new Map([[path, text]])).map((v) => `${v.rule} ${v.detail}`);
	test("may use all that a browser has", () =>
		expect(
			inPage(
				'import "./style.css"; export const a = document.title + localStorage.length + navigator.onLine;',
			),
		).toEqual([]));
	test("may not compile at run time, nor use what only Node has", () => {
		expect(inPage('export const a = eval("1");')).toEqual(["global eval"]);
		expect(inPage('export const a = new Function("1");')).toEqual(["global Function"]);
		expect(inPage("export const a = process.env;")).toEqual(["global process"]);
		expect(inPage('import "node:fs";')).toEqual(["machine node:fs in a page"]);
	});
	test("is imported by nothing below it, and no picture library is used outside it", () => {
		expect(
			check(
				new Map([
					["src/pictures/a.ts", 'import { b } from "../ui/b.ts"; export const a = b;'],
					["src/ui/b.ts", "export const b = 1;"],
				]),
			).map((v) => v.rule),
		).toEqual(["direction"]);
		expect(
			inPage('import Plotly from "plotly.js-dist-min"; export const a = Plotly;', "src/pictures/a.ts"),
		).toEqual(["package src/pictures may not import package plotly.js-dist-min"]);
	});
});
