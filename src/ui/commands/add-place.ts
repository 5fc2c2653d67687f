import type { Command } from "../state/model.ts";
import { readEntry, write } from "./change-document.ts";

/** One more of a part, at first where the last one stands. */
export function addPlace(part: number): Command {
	return {
		name: "one more of a part",
		apply(state) {
			const path = `craft.parts[${part}]`;
			const { position, at, ...rest } = readEntry(state.document, "craft.parts", part) as {
				readonly position?: unknown;
				readonly at?: readonly unknown[];
			};
			const places = at ?? [position ?? [0, 0, 0]];
			const after = { ...rest, at: [...places, places[places.length - 1]] };
			return { ...state, document: write(state.document, path, after) };
		},
	};
}
