import { createHash } from "node:crypto";
import { basename, dirname, relative, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import type { GainSet } from "../control/spec.ts";
import type { OperatingPoint } from "../craft/model.ts";
import type { Drill } from "../flight/drill.ts";
import { many } from "../report/format.ts";
import { withoutMark } from "../scenario/json-text.ts";
import { loadScenario } from "../scenario/load.ts";
import type { LoadResult, Scenario, ScenarioError } from "../scenario/model.ts";
import { BadInput } from "./errors.ts";
import type { Io } from "./io.ts";
import { reason } from "./output.ts";
import { meant, nearest } from "./suggest.ts";

export interface ScenarioFile {
	/** As the person wrote it. */
	readonly file: string;
	/** Of the file as it is read, a byte order mark included. */
	readonly sha256: string;
	readonly text: string;
}

export interface OpenScenario extends ScenarioFile {
	readonly scenario: Scenario;
}

const SHIPPED = fileURLToPath(new URL("../../scenarios", import.meta.url));

/** The file's text; the message for a missing one names what is near and what is shipped. */
function readScenarioFile(io: Io, file: string): ScenarioFile {
	let text: string;
	try {
		text = io.readFile(file);
	} catch (error) {
		if (!(error as NodeJS.ErrnoException).code) throw error;
		throw new BadInput(`cannot read '${file}': ${reason(error)}`, alternatives(io, file));
	}
	return { file, text: withoutMark(text), sha256: createHash("sha256").update(text).digest("hex") };
}

/** A path of a scenario that comes with the program. */
export function shippedScenario(name: string): string {
	const path = resolve(SHIPPED, `${name}.json`);
	const here = relative(process.cwd(), path);
	return here.startsWith("..") ? path : here;
}

export function readScenario(
	io: Io,
	file: string,
): { readonly source: ScenarioFile; readonly result: LoadResult } {
	const source = readScenarioFile(io, file);
	return { source, result: loadScenario(source.text) };
}

/** A scenario that can be used; odd values go to stderr. How units were read is for `check` to say. */
export function openScenario(io: Io, file: string): OpenScenario {
	const { source, result } = readScenario(io, file);
	if (!result.ok) throw new BadInput(errorText(file, result.errors));
	for (const { kind, path, sentence } of result.scenario.warnings)
		if (kind === "odd") io.err(`warning: ${path}: ${sentence}\n`);
	return { ...source, scenario: result.scenario };
}

export function errorText(file: string, errors: readonly ScenarioError[]): string {
	return `${file} has ${many(errors.length, "error")}:\n${errors.map((each) => `  ${each.message}`).join("\n")}`;
}

function alternatives(io: Io, file: string): string {
	const near = nearest(
		basename(file),
		io.list(dirname(file)).filter((name) => name.endsWith(".json")),
	);
	const shipped = io.list(SHIPPED).filter((name) => name.endsWith(".json"));
	const wanted = nearest(
		basename(file, ".json"),
		shipped.map((name) => basename(name, ".json")),
	);
	return [
		near && `Did you mean '${dirname(file) === "." ? near : `${dirname(file)}/${near}`}'?`,
		!near && wanted && `Did you mean '${shippedScenario(wanted)}'?`,
		shipped.length > 0 &&
			`Shipped: ${shipped.map((name) => shippedScenario(basename(name, ".json"))).join(", ")}.`,
	]
		.filter(Boolean)
		.join(" ");
}

/** The gain set of a name, else the first. */
export function chooseSet(scenario: Scenario, name: string | undefined, option = "--set"): GainSet {
	return choose("gain set", option, scenario.gainSets, name);
}

export function chooseDrill(scenario: Scenario, name: string | undefined): Drill {
	return choose("drill", "--drill", scenario.drills, name);
}

/** The operating point of a name, else the first. */
export function choosePoint(
	scenario: Scenario,
	name: string | undefined,
): { readonly name: string; readonly point: OperatingPoint } {
	return choose("operating point", "--point", scenario.operatingPoints, name);
}

function choose<T extends { readonly name: string }>(
	what: string,
	option: string,
	list: readonly T[],
	name: string | undefined,
): T {
	const found = name === undefined ? list[0] : list.find((each) => each.name === name);
	if (found) return found;
	if (name === undefined)
		throw new BadInput(`the scenario has no ${what}`, `Add one to the file (docs/scenario.schema.json).`);
	throw new BadInput(
		`${option} '${name}': the scenario has no such ${what}`,
		list.length === 0
			? `The file has no ${what} at all.`
			: meant(
					name,
					list.map((each) => each.name),
				),
	);
}
