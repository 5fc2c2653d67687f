import { distance } from "fastest-levenshtein";

/** The known name that a mistyped one most likely meant; null when none is near. */
export function nearest(name: string, known: Iterable<string>): string | null {
	let best: string | null = null;
	let least = Math.min(name.length - 1, Math.max(2, Math.floor(name.length / 3))) + 1;
	for (const each of known) {
		const d = distance(name.toLowerCase(), each.toLowerCase());
		if (d < least) {
			least = d;
			best = each;
		}
	}
	return best;
}

/** 'did you mean X?' or a list of what there is. */
export function meant(name: string, known: readonly string[]): string {
	const near = nearest(name, known);
	const list = known.length > 0 ? `There is: ${known.join(", ")}.` : "";
	return near ? `Did you mean '${near}'? ${list}`.trim() : list;
}
