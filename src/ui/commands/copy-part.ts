import type { Command } from "../state/model.ts";
import { readEntry, readList, write } from "./change-document.ts";

const PARTS = "craft.parts";

/** The same part once more behind it, under a name of its own. */
export function copyPart(index: number): Command {
	return {
		name: "copy a part",
		apply(state) {
			const part = readEntry(state.document, PARTS, index) as Readonly<Record<string, unknown>>;
			const parts = readList(state.document, PARTS);
			const copy = { ...part, name: freeName(parts, String(part["name"] ?? "part")) };
			return { ...state, document: write(state.document, PARTS, parts.toSpliced(index + 1, 0, copy)) };
		},
	};
}

/** 'battery' is followed by 'battery 2'. */
function freeName(parts: readonly unknown[], wanted: string): string {
	const taken = new Set(parts.map((each) => (each as { readonly name?: unknown } | null)?.name));
	const stem = wanted.replace(/ \d+$/, "");
	for (let k = 2; ; k++) if (!taken.has(`${stem} ${k}`)) return `${stem} ${k}`;
}
