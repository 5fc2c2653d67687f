import type { GainSet } from "../control/spec.ts";
import type { NamedSet } from "./looks.ts";

/** The set's own letter where its name is one of A to F, else its place in the file. */
export function namedSet(set: GainSet, all: readonly GainSet[]): NamedSet {
	const place = Math.max(
		0,
		all.findIndex((each) => each.name === set.name),
	);
	return {
		letter: /^[A-F]$/.test(set.name) ? set.name : "ABCDEF"[place % 6]!,
		name: /^[A-F]$/.test(set.name) ? `set ${set.name}` : set.name,
	};
}
