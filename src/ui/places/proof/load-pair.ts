import type { Drill } from "../../../flight/drill.ts";
import { pointsOf } from "../../commands/own-point.ts";
import type { ScenarioDocument } from "../../state/model.ts";

/** A document in which one operating point stands twice: without load, then with the heaviest. */
export interface LoadPair {
	readonly text: string;
	readonly points: readonly [string, string];
	readonly inGrip: boolean;
}

/**
 * For questions alone: the page's own document stays as it is. Where the drill moves a limb of so many links the load is in its grip, also at a point that names no pose.
 * @throws RangeError for a point that is not there.
 */
export function loadPair(
	document: ScenarioDocument,
	point: string,
	drill: Pick<Drill, "events">,
	links: number,
): LoadPair {
	const from = pointsOf(document).find((each) => each.name === point);
	if (!from) throw new RangeError(`no operating point '${point}'`);
	const points = [`${point}, without load`, `${point}, with the heaviest load`] as const;
	const moves = links > 0 && drill.events.some(({ kind }) => kind === "limb");
	const pose = moves && from["limb"] === undefined ? { limb: Array.from({ length: links }, () => 0) } : {};
	return {
		points,
		inGrip: moves || from["limb"] !== undefined,
		text: JSON.stringify({
			...document,
			operatingPoints: [
				{ ...from, ...pose, name: points[0], load: "none" },
				{ ...from, ...pose, name: points[1], load: "heaviest" },
			],
		}),
	};
}
