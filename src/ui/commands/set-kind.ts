import type { Command } from "../state/model.ts";
import { read, write } from "./change-document.ts";

/**
 * What a group of the document is, such as where angles come from: `keys` are those that it has besides, and of what was written those that
 * fit are kept. `undefined` takes the group out, so that its default holds again.
 */
export function setKind(
	path: string,
	key: string,
	kind: string | undefined,
	keys: readonly string[],
	name = path,
): Command {
	return {
		name,
		apply(state) {
			const before = (read(state.document, path) ?? {}) as Readonly<Record<string, unknown>>;
			const kept = Object.entries(before).filter(([each]) => keys.includes(each));
			const group = kind === undefined ? undefined : { [key]: kind, ...Object.fromEntries(kept) };
			return { ...state, document: write(state.document, path, group) };
		},
	};
}
