import { listed } from "../pictures/looks.ts";

/** A sentence without the axis that it begins with. */
export const withoutAxis = (axis: string, sentence: string): string =>
	sentence.startsWith(`${axis}: `) ? sentence.slice(axis.length + 2) : sentence;

/** One sentence per limit; axes that meet the same one share it. */
export function bindingSentences(
	binding: readonly { readonly axis: string; readonly sentence: string }[],
): string[] {
	const axes = new Map<string, string[]>();
	for (const { axis, sentence } of binding) {
		const bare = withoutAxis(axis, sentence);
		axes.set(bare, [...(axes.get(bare) ?? []), axis]);
	}
	return [...axes].map(([bare, list]) => `${listed(list)}: ${bare}`);
}
