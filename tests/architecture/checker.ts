import { posix } from "node:path";
import { runInNewContext } from "node:vm";
import { parseSync } from "oxc-parser";
import { freeNames } from "./free-names.ts";
import {
	isPageLayer,
	layerOf,
	MAY_COMPUTE_IMPORTS,
	mayImport,
	mayUsePackage,
	touchesMachine,
} from "./layers.ts";

export interface Violation {
	readonly rule: "parse" | "layer" | "direction" | "missing" | "package" | "machine" | "global" | "cycle";
	readonly path: string;
	readonly line: number;
	readonly detail: string;
}

/** Repository path to source text. */
export type Sources = ReadonlyMap<string, string>;

/** What every engine has, by the language standard alone. */
const LANGUAGE = new Set([
	...(runInNewContext("Object.getOwnPropertyNames(globalThis)") as string[]),
	..."Partial Required Readonly Record Pick Omit Exclude Extract NonNullable Parameters ReturnType Awaited".split(
		" ",
	),
	..."InstanceType ConstructorParameters Uppercase Lowercase Capitalize NoInfer PropertyKey ErrorOptions".split(
		" ",
	),
	..."ArrayLike Iterable Iterator IterableIterator AsyncIterable Generator AsyncGenerator PromiseLike".split(
		" ",
	),
	..."ReadonlyArray ReadonlyMap ReadonlySet PromiseSettledResult PromiseFulfilledResult const".split(" "),
	..."ArrayBufferLike ArrayBufferView this".split(" "),
]);
/** Of the language, yet a clock, a dice cup, a door to the rest or a compiler at run time. */
const UNREPEATABLE = new Set(["Date", "console", "globalThis", "eval", "Function", "WebAssembly", "Intl"]);
/** What Node and the command line add; no DOM name is among them. */
const MACHINE = new Set(
	(
		"process Buffer console NodeJS performance URL AbortController AbortSignal structuredClone queueMicrotask " +
		"setTimeout clearTimeout setInterval clearInterval setImmediate clearImmediate TextEncoder TextDecoder " +
		"MessageChannel MessagePort Transferable Worker navigator"
	).split(" "),
);
/** What a page may not use though it may use all that a browser has: a compiler at run time, and what only Node has. */
const NOT_IN_A_PAGE = new Set("eval Function process Buffer NodeJS require module setImmediate".split(" "));

/** Everything that breaks the house's rules, in order of path and line. */
export function check(sources: Sources): Violation[] {
	const found: Violation[] = [];
	const graph = new Map<string, string[]>();
	for (const [path, text] of sources) {
		const parsed = parseSync(path, text);
		const add = (rule: Violation["rule"], start: number, detail: string) =>
			found.push({ rule, path, line: text.slice(0, start).split("\n").length, detail });
		for (const error of parsed.errors) add("parse", error.labels[0]?.start ?? 0, error.message);
		const layer = layerOf(path);
		if (layer === null) {
			add("layer", 0, "belongs to no layer");
			continue;
		}
		const targets: string[] = [];
		for (const { request, start } of imports(parsed, text)) {
			if (request === null) {
				if (path !== MAY_COMPUTE_IMPORTS)
					add("missing", start, "an import whose target is not a literal cannot be checked");
			} else if (request.startsWith(".")) {
				const target = posix.normalize(posix.join(posix.dirname(path), request));
				const to = layerOf(target);
				if (target === "package.json" && touchesMachine(layer)) continue;
				if (isPageLayer(layer) && /^scenarios\/[^/]+\.json$|\.css$/.test(target)) continue;
				if (!sources.has(target)) add("missing", start, `${request} is not a file of the project`);
				else targets.push(target);
				if (to === null || !mayImport(layer, to))
					add("direction", start, `${layer} may not import ${to ?? target}`);
			} else if (request.startsWith("node:")) {
				if (!touchesMachine(layer) || isPageLayer(layer))
					add("machine", start, `${request} ${isPageLayer(layer) ? "in a page" : "below the command line"}`);
			} else {
				const name = request
					.split("/")
					.slice(0, request.startsWith("@") ? 2 : 1)
					.join("/");
				if (!mayUsePackage(layer, name)) add("package", start, `${layer} may not import package ${name}`);
			}
		}
		graph.set(path, targets);
		for (const { name, member, start } of freeNames(parsed.program)) {
			const machine = touchesMachine(layer);
			if (name === "Math" && !machine && (member === null || member === "random"))
				add("global", start, member === null ? "Math taken whole" : "Math.random");
			else if (isPageLayer(layer) ? NOT_IN_A_PAGE.has(name) : !isAllowed(name, machine))
				add("global", start, name);
		}
	}
	return [...found, ...cycles(graph)].sort((a, b) =>
		a.path < b.path ? -1 : a.path > b.path ? 1 : a.line - b.line,
	);
}

function isAllowed(name: string, machine: boolean): boolean {
	if (machine) return (LANGUAGE.has(name) && name !== "eval" && name !== "Function") || MACHINE.has(name);
	return LANGUAGE.has(name) && !UNREPEATABLE.has(name);
}

/** Static, re-exporting, dynamic and type imports; null where the target is computed. */
function imports(
	parsed: ReturnType<typeof parseSync>,
	text: string,
): { request: string | null; start: number }[] {
	const list: { request: string | null; start: number }[] = [];
	for (const each of parsed.module.staticImports)
		list.push({ request: each.moduleRequest.value, start: each.start });
	for (const each of parsed.module.staticExports)
		for (const entry of each.entries)
			if (entry.moduleRequest) list.push({ request: entry.moduleRequest.value, start: each.start });
	for (const each of parsed.module.dynamicImports) {
		const literal = /^(["'`])([^"'`$]*)\1$/.exec(
			text.slice(each.moduleRequest.start, each.moduleRequest.end),
		);
		list.push({ request: literal?.[2] ?? null, start: each.start });
	}
	for (const match of text.matchAll(/\bimport\(\s*["']([^"']+)["']\s*\)\s*[.[]/g))
		if (!list.some((each) => each.request === match[1]))
			list.push({ request: match[1]!, start: match.index });
	return list;
}

/** One violation per strongly connected group of files, naming a loop. */
function cycles(graph: ReadonlyMap<string, readonly string[]>): Violation[] {
	const found: Violation[] = [];
	const state = new Map<string, "open" | "done">();
	const stack: string[] = [];
	const visit = (path: string): void => {
		state.set(path, "open");
		stack.push(path);
		for (const next of graph.get(path) ?? []) {
			if (state.get(next) === "open") {
				const loop = [...stack.slice(stack.indexOf(next)), next];
				found.push({ rule: "cycle", path: next, line: 1, detail: loop.join(" -> ") });
			} else if (!state.has(next)) visit(next);
		}
		stack.pop();
		state.set(path, "done");
	};
	for (const path of [...graph.keys()].sort()) if (!state.has(path)) visit(path);
	return found;
}
