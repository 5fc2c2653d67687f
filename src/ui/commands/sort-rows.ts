import type { KindName } from "../../units/kinds.ts";
import { parseQuantity } from "../../units/parse.ts";
import type { Command } from "../state/model.ts";
import { readList, write } from "./change-document.ts";

type Row = Readonly<Record<string, unknown>>;

/** Rows by one rising quantity; those where it cannot be read come last. */
export function sortRows(path: string, key: string, kind: KindName, name = `sort ${path}`): Command {
	const size = (row: unknown): number => {
		const read = parseQuantity(kind, (row as Row | null)?.[key]);
		return read.ok ? read.value : Number.POSITIVE_INFINITY;
	};
	return {
		name,
		apply(state) {
			const rows = readList(state.document, path);
			const sorted = rows.map((row) => ({ row, at: size(row) })).sort((a, b) => a.at - b.at || 0);
			return {
				...state,
				document: write(
					state.document,
					path,
					sorted.map((each) => each.row),
				),
			};
		},
	};
}
