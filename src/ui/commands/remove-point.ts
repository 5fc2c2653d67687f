import type { Command } from "../state/model.ts";
import { pointsOf } from "./own-point.ts";

/** Takes an operating point out of the scenario; at least one stays. */
export function removePoint(name: string): Command {
	return {
		name: `take out operating point ${name}`,
		apply(state) {
			const points = pointsOf(state.document);
			const rest = points.filter((each) => each.name !== name);
			if (rest.length === points.length) throw new RangeError(`no operating point '${name}'`);
			if (rest.length === 0) throw new RangeError(`'${name}' is the only operating point: one has to stay`);
			const from = name.replace(/, mine( \d+)?$/, "");
			const point = rest.some((each) => each.name === from) ? from : rest[0]!.name;
			return {
				document: { ...state.document, operatingPoints: rest },
				view: { ...state.view, point },
			};
		},
	};
}
