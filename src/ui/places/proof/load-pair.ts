import { pointsOf } from "../../commands/own-point.ts";
import type { ScenarioDocument } from "../../state/model.ts";

/** A document in which one operating point stands twice: without load, then with the heaviest. */
export interface LoadPair {
	readonly text: string;
	readonly points: readonly [string, string];
}

/** For questions alone: the page's own document stays as it is. @throws RangeError for a point that is not there. */
export function loadPair(document: ScenarioDocument, point: string): LoadPair {
	const from = pointsOf(document).find((each) => each.name === point);
	if (!from) throw new RangeError(`no operating point '${point}'`);
	const points = [`${point}, without load`, `${point}, with the heaviest load`] as const;
	return {
		points,
		text: JSON.stringify({
			...document,
			operatingPoints: [
				{ ...from, name: points[0], load: "none" },
				{ ...from, name: points[1], load: "heaviest" },
			],
		}),
	};
}
