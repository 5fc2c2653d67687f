import type { Command } from "../state/model.ts";
import { readEntry, write } from "./change-document.ts";

/** One fewer of a part; the last that is left has a plain position. */
export function removePlace(part: number, index: number): Command {
	return {
		name: "one fewer of a part",
		apply(state) {
			const path = `craft.parts[${part}]`;
			readEntry(state.document, `${path}.at`, index);
			const { at, ...rest } = readEntry(state.document, "craft.parts", part) as {
				readonly at: readonly unknown[];
			};
			const left = at.filter((_, i) => i !== index);
			if (left.length === 0)
				throw new RangeError(`${path}: the last place; expected at least one, or take the part out`);
			const after = left.length === 1 ? { ...rest, position: left[0] } : { ...rest, at: left };
			return { ...state, document: write(state.document, path, after) };
		},
	};
}
