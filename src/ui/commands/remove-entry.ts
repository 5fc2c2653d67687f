import type { Command } from "../state/model.ts";
import { readEntry, readList, write } from "./change-document.ts";

/** Takes one entry out of a list; with the last one the list goes. */
export function removeEntry(path: string, index: number, name = `take out of ${path}`): Command {
	return {
		name,
		apply(state) {
			readEntry(state.document, path, index);
			const rest = readList(state.document, path).filter((_, i) => i !== index);
			return { ...state, document: write(state.document, path, rest) };
		},
	};
}
