import { withValue } from "../../scenario/load.ts";
import { migrate } from "../../scenario/migrate.ts";
import { formatPath, type Path, parsePath, valueAt } from "../../scenario/path.ts";
import type { ScenarioDocument } from "../state/model.ts";

/** What stands at a path of the current version of the document. */
export const read = (document: ScenarioDocument, path: string): unknown =>
	valueAt(migrate(document), parsePath(path));

/** A list of the document; empty where there is none. */
export function readList(document: ScenarioDocument, path: string): readonly unknown[] {
	const list = read(document, path);
	return Array.isArray(list) ? list : [];
}

/** A list's entry. @throws RangeError naming list and index where there is none. */
export function readEntry(document: ScenarioDocument, path: string, index: number): unknown {
	const list = readList(document, path);
	if (!(index >= 0 && index < list.length))
		throw new RangeError(`${path}: no entry ${index}, expected one of ${list.length}`);
	return list[index];
}

/** A copy with one value written; an empty list and `undefined` are taken out. */
export function write(document: ScenarioDocument, path: string, value: unknown): ScenarioDocument {
	const none = value === undefined || (Array.isArray(value) && value.length === 0);
	return none ? without(document, path) : (withValue(document, path, value) as ScenarioDocument);
}

/** A copy without a value. Groups that it leaves empty go too, as nothing is said by them; entries of lists stay. */
function without(document: ScenarioDocument, path: string): ScenarioDocument {
	const current = migrate(document);
	const keys = parsePath(path);
	if (valueAt(current, keys) === undefined) return document;
	const parent = keys.slice(0, -1);
	const group = valueAt(current, parent);
	const last = keys[keys.length - 1]!;
	if (group === null || typeof group !== "object" || Array.isArray(group))
		throw new RangeError(`path '${path}': expected a value of a group, which can be taken out`);
	const rest = Object.fromEntries(Object.entries(group).filter(([key]) => key !== last));
	if (Object.keys(rest).length === 0 && isOwnGroup(parent))
		return without(current as ScenarioDocument, formatPath(parent));
	return (parent.length === 0 ? rest : withValue(current, formatPath(parent), rest)) as ScenarioDocument;
}

/** Neither the document, nor the craft, which must be there, nor an entry of a list. */
const isOwnGroup = (path: Path): boolean => path.length > 1 && typeof path[path.length - 1] !== "number";
