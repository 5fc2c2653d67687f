import type { Command } from "../state/model.ts";
import { readList, write } from "./change-document.ts";

/** One more entry at the end of a list, which begins with it where there was none. */
export function addEntry(path: string, entry: unknown, name = `add to ${path}`): Command {
	return {
		name,
		apply: (state) => ({
			...state,
			document: write(state.document, path, [...readList(state.document, path), entry]),
		}),
	};
}
