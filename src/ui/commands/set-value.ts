import type { Command } from "../state/model.ts";
import { write } from "./change-document.ts";

/** Writes one value of the document, as typed; `undefined` takes it out, so that its default holds again. */
export function setValue(path: string, value: unknown, name = path, joins?: string): Command {
	return {
		name,
		...(joins === undefined ? {} : { joins }),
		apply(state) {
			const document = write(state.document, path, value);
			return document === state.document ? state : { ...state, document };
		},
	};
}
