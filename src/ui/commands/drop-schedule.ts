import type { Command } from "../state/model.ts";
import { setsOf } from "./rack.ts";

/** A set's gains stay as they stand, whatever limb and load do. */
export function dropSchedule(name: string): Command {
	return {
		name: `gains of ${name} stay as they are`,
		apply(state) {
			const sets = setsOf(state);
			if (!sets.some((each) => each.name === name)) throw new RangeError(`no gain set '${name}' in the rack`);
			const gainSets = sets.map((each) => {
				if (each.name !== name) return each;
				const { schedule: _, ...rest } = each;
				return rest;
			});
			return { ...state, document: { ...state.document, gainSets } };
		},
	};
}
