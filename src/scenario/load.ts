import type { CraftInput } from "../craft/input.ts";
import type { Assumption, Craft } from "../craft/model.ts";
import { Notes } from "../craft/notes.ts";
import { type ResolvedCraft, resolveCraft } from "../craft/resolve.ts";
import { defaultFirmwareUnits, type FirmwareUnits } from "../handover/firmware-units.ts";
import { parseQuantity } from "../units/parse.ts";
import { craftSchema } from "./craft-schema.ts";
import { resolveDrills } from "./drills.ts";
import { faultError, fromIssues, scenarioError } from "./errors.ts";
import { resolveGainSets } from "./gain-sets.ts";
import { findFault, withoutMark } from "./json-text.ts";
import { migrate } from "./migrate.ts";
import type { LoadResult, ScenarioError, TuningChanges } from "./model.ts";
import { resolvePoints } from "./operating-points.ts";
import { formatPath, parsePath, setAt, valueAt } from "./path.ts";
import { readSections } from "./read-sections.ts";
import { CURRENT_VERSION, type ScenarioInput, scenarioSchema } from "./schema.ts";

/** Reads a scenario file. Never throws on bad text. */
export function loadScenario(written: string): LoadResult {
	const text = withoutMark(written);
	const fault = findFault(text);
	if (fault !== null) return { ok: false, errors: [faultError(fault)] };
	return loadDocument(JSON.parse(text));
}

/** The same for a document already parsed from JSON; do not change it in place afterwards (`withValue` copies). */
export function loadDocument(document: unknown): LoadResult {
	const version = versionError(document);
	if (version !== null) return { ok: false, errors: [version] };
	const current = migrate(document);
	const { input, issues } = readSections(current);
	if (issues !== null) return { ok: false, errors: fromIssues(issues, current, scenarioSchema) };
	return resolve(input, document, current);
}

/**
 * A copy of a document with one value set by path, such as `craft.mass` or `gainSets.A.roll.kp` (list entries by
 * index or by their name); missing groups are made. Paths are those of the current version. Follow with `loadDocument`.
 * @throws RangeError on a path that leads nowhere.
 */
export function withValue(document: unknown, path: string, value: unknown): unknown {
	return setAt(migrate(document), parsePath(path), value);
}

function versionError(document: unknown): ScenarioError | null {
	const version = valueAt(document, ["levelhead"]);
	if (document === null || typeof document !== "object" || Array.isArray(document))
		return scenarioError("", document, 'a group in curly brackets with "levelhead" and "craft"');
	if (version === 1 || version === CURRENT_VERSION) return null;
	const newer = typeof version === "number" && version > CURRENT_VERSION;
	return scenarioError(
		"levelhead",
		version,
		`the file's version, ${CURRENT_VERSION}`,
		newer ? "this file is newer than this program" : "",
	);
}

function resolve(input: ScenarioInput, document: unknown, current: unknown): LoadResult {
	const { craft, notes, odd, massOrigin } = craftOf(input.name, input.craft, current);
	if (craft === null) return failed(notes, current);
	const firmware = firmwareUnits(input, 1e6 / craft.timing.control.periodUs, craft.rotors.length, notes);
	const gainSets = resolveGainSets(input.gainSets ?? [], firmware, craft, notes);
	const points = pointsOf(input.operatingPoints, craft);
	const drills = drillsOf(input.drills, craft);
	for (const { noted } of [points, drills]) {
		notes.assumed.push(...noted.assumed);
		notes.problems.push(...noted.problems);
	}
	if (notes.problems.length > 0) return failed(notes, current);
	return {
		ok: true,
		scenario: {
			document,
			name: input.name ?? craft.name,
			note: input.note ?? "",
			citation: input.citation ?? null,
			craft,
			operatingPoints: points.list,
			gainSets,
			drills: drills.list,
			firmware,
			tuning: tuningChanges(input.tuning),
			massOrigin,
			parts: input.craft.parts ?? [],
			// Only people read these: made when asked for.
			get assumed() {
				return inFileOrder(notes.assumed);
			},
			get warnings() {
				return [...forceRemarks(current), ...odd.map((each) => ({ kind: "odd" as const, ...each }))];
			},
		},
	};
}

/** What a craft's group came to: documents that differ elsewhere share it. */
const crafts = new WeakMap<object, { readonly name: string | undefined; readonly resolved: ResolvedCraft }>();

function craftOf(fileName: string | undefined, input: CraftInput, current: unknown): ResolvedCraft {
	const group = valueAt(current, ["craft"]) as object;
	const name = input.name ?? fileName;
	let known = crafts.get(group);
	if (known === undefined || known.name !== name) {
		known = { name, resolved: resolveCraft({ ...input, ...(name !== undefined && { name }) }) };
		crafts.set(group, known);
	}
	return { ...known.resolved, notes: known.resolved.notes.copy() };
}

/** What a list of the file came to for a craft: documents that differ elsewhere share it. */
interface Made<I, T> {
	readonly input: I;
	readonly list: T;
	readonly noted: Notes;
}

/** Drills take long where a limb swings past propellers, so that each list is kept by itself. */
function keptBy<I, T>(resolveList: (input: I, craft: Craft, notes: Notes) => T) {
	const known = new WeakMap<Craft, Made<I, T>>();
	return (input: I, craft: Craft): Made<I, T> => {
		const last = known.get(craft);
		if (last !== undefined && last.input === input) return last;
		const noted = new Notes();
		const made = { input, list: resolveList(input, craft, noted), noted };
		known.set(craft, made);
		return made;
	};
}

const pointsOf = keptBy(resolvePoints);
const drillsOf = keptBy(resolveDrills);

function failed(notes: Notes, current: unknown): LoadResult {
	return {
		ok: false,
		errors: notes.problems.map(({ path, expected, hint, value }) =>
			scenarioError(path, valueAt(current, parsePath(path)) ?? value, expected, hint),
		),
	};
}

function firmwareUnits(input: ScenarioInput, loopHz: number, rotors: number, notes: Notes): FirmwareUnits {
	const given = input.firmware ?? {};
	const usual = defaultFirmwareUnits(loopHz);
	const scale = { us: 1000, fraction: 1, percent: 100, counts: 1000 };
	const output = given.output ?? usual.output;
	if (output === "counts" && given.outputFullScale === undefined)
		notes.problem("firmware.outputFullScale", undefined, "how many timer counts the whole command range is");
	if (given.motorNumbers !== undefined && given.motorNumbers.length !== rotors)
		notes.problem("firmware.motorNumbers", given.motorNumbers, `${rotors} numbers, one per rotor`);
	return { ...usual, ...given, output, outputFullScale: given.outputFullScale ?? scale[output] };
}

const FILE_ORDER = new Map(
	[...Object.keys(craftSchema.shape).map((key) => `craft.${key}`), ...Object.keys(scenarioSchema.shape)].map(
		(key, i) => [key, i],
	),
);

/** By the section they belong to; within one, as they were made. */
function inFileOrder(assumed: readonly Assumption[]): Assumption[] {
	const rank = ({ path }: Assumption): number =>
		FILE_ORDER.get(/^(?:craft\.)?[^.[]*/.exec(path)?.[0] ?? "") ?? -1;
	return assumed
		.map((each) => ({ each, rank: rank(each) }))
		.sort((a, b) => a.rank - b.rank)
		.map(({ each }) => each);
}

/** The file's own keys and units to those of the limits. */
function tuningChanges(tuning: ScenarioInput["tuning"]): TuningChanges {
	const changes: { [character: string]: { [limit: string]: number } } = {};
	for (const [character, limits] of Object.entries(tuning ?? {})) {
		const { phaseMargin, leastDelayMargin, noise, ...same } = limits;
		const entries = Object.entries({
			...same,
			phaseMarginDeg: phaseMargin === undefined ? undefined : (phaseMargin * 180) / Math.PI,
			leastDelayMarginSec: leastDelayMargin,
			noiseRms: noise,
		}).filter((entry): entry is [string, number] => entry[1] !== undefined);
		changes[character] = Object.fromEntries(entries);
	}
	return changes;
}

/** A mass where a force is expected is understood, and said. */
function forceRemarks(document: unknown): { kind: "unit"; path: string; sentence: string }[] {
	const motors = ["craft", "motors"];
	const bench = valueAt(document, [...motors, "bench"]);
	const paths = [
		[...motors, "maxThrust"],
		...(Array.isArray(bench) ? bench.map((_, i) => [...motors, "bench", i, "thrust"]) : []),
	];
	const remarks = paths.flatMap((path) => {
		const read = parseQuantity("force", valueAt(document, path));
		return read.ok && read.remark !== ""
			? [{ kind: "unit" as const, path: formatPath(path), sentence: read.remark }]
			: [];
	});
	return remarks.slice(0, 1);
}
