import type { Command } from "../state/model.ts";
import { read, write } from "./change-document.ts";

/**
 * One of several numbers that stand side by side, such as a position's 'right'. The others are written as `whole` has them where the
 * document says none; emptied, the number is as `whole` has it.
 */
export function setComponent(
	path: string,
	index: number,
	value: unknown,
	whole: readonly unknown[],
	name = path,
	joins?: string,
): Command {
	return {
		name,
		...(joins === undefined ? {} : { joins }),
		apply(state) {
			const given = read(state.document, path);
			const before = Array.isArray(given) ? given : whole;
			if (!(index >= 0 && index < before.length))
				throw new RangeError(`${path}: no number ${index}, expected one of ${before.length}`);
			const after = before.map((each, i) => (i === index ? (value ?? whole[i] ?? null) : each));
			return { ...state, document: write(state.document, path, after) };
		},
	};
}
