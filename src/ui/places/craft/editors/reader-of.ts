import type { KindName } from "../../../../units/kinds.ts";
import { NUMBER, quantityReader, type Reader, TEXT, WHOLE } from "../../../entry/readers.ts";

export type ReaderName = KindName | "number" | "whole" | "text";

const made = new Map<ReaderName, Reader>([
	["number", NUMBER],
	["whole", WHOLE],
	["text", TEXT],
]);

/** Always the same one for a name. */
export function readerOf(name: ReaderName): Reader {
	const known = made.get(name);
	if (known) return known;
	const reader = quantityReader(name as KindName);
	made.set(name, reader);
	return reader;
}
