import { loadDocument } from "../../scenario/load.ts";
import { formatQuantity } from "../../units/format.ts";
import type { Command } from "../state/model.ts";
import { changePoint } from "./own-point.ts";

/** What hangs on the craft at an operating point, 0 to the heaviest that the craft is meant to carry. `written`: as typed, where it was. */
export function setLoad(
	point: string,
	massKg: number,
	options: { readonly written?: string; readonly joins?: string } = {},
): Command {
	const { joins, written } = options;
	return {
		name: `load, ${point}`,
		...(joins === undefined ? {} : { joins }),
		apply(state) {
			const loaded = loadDocument(state.document);
			if (!loaded.ok) throw new RangeError(`mend the scenario first: ${loaded.errors[0]?.message}`);
			const most = loaded.scenario.craft.load.massKg;
			if (!(massKg >= 0 && massKg <= most * (1 + 1e-9)))
				throw new RangeError(
					`Load ${written ?? formatQuantity("mass", massKg)}: expected 0 to the heaviest load, ${formatQuantity("mass", most)} (craft.load.mass).`,
				);
			const load =
				massKg === 0
					? undefined
					: massKg >= most * (1 - 1e-9)
						? "heaviest"
						: { mass: written ?? formatQuantity("mass", massKg, 6) };
			return changePoint(state, point, { load });
		},
	};
}
