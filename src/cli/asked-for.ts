import type { Io } from "./io.ts";
import { madeBy } from "./made-by.ts";
import { choosePoint, chooseSet } from "./scenario-file.ts";
import type { PointOptions, SetOptions } from "./scenario-options.ts";
import { openWithSets } from "./starting-sets.ts";

/** The file with the gain set and the operating point that were asked for, and what says so in a result. */
export function askedFor(io: Io, file: string, options: SetOptions & PointOptions) {
	const opened = openWithSets(io, file, ["even"]);
	const { scenario } = opened;
	const set = chooseSet(scenario, options.set);
	const { name, point } = choosePoint(scenario, options.point);
	return {
		opened,
		scenario,
		set,
		point,
		pointName: name,
		/** @param seed of what was drawn by lot; left out where nothing was */
		made: (seed?: number) =>
			madeBy({
				scenario: { ...opened, name: scenario.name },
				gainSet: set.name,
				operatingPoint: name,
				...(seed === undefined ? {} : { seed }),
			}),
	};
}
