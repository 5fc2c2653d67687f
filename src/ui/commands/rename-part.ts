import type { Command } from "../state/model.ts";
import { readEntry, readList, write } from "./change-document.ts";

/** A part under another name; links of the limb that move it follow. */
export function renamePart(index: number, name: string | undefined): Command {
	return {
		name: "name of a part",
		apply(state) {
			const { name: before } = readEntry(state.document, "craft.parts", index) as { readonly name?: unknown };
			let document = write(state.document, `craft.parts[${index}].name`, name);
			if (name === undefined || typeof before !== "string") return { ...state, document };
			readList(document, "craft.limb.links").forEach((_, i) => {
				const path = `craft.limb.links[${i}].parts`;
				const names = readList(document, path);
				if (names.includes(before))
					document = write(
						document,
						path,
						names.map((each) => (each === before ? name : each)),
					);
			});
			return { ...state, document };
		},
	};
}
