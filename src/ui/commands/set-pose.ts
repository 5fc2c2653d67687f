import { poseProblems } from "../../craft/limb-pose.ts";
import type { Craft } from "../../craft/model.ts";
import { loadDocument } from "../../scenario/load.ts";
import { formatQuantity } from "../../units/format.ts";
import type { Command } from "../state/model.ts";
import { changePoint } from "./own-point.ts";

/** Why a pose cannot be, as a sentence; empty where it can. */
export function poseRefusal(craft: Craft, poseRad: readonly number[]): string {
	const [first] = poseProblems(craft, poseRad);
	if (!first) return "";
	const [at, expected] = first;
	const index = /^\[(\d+)\]$/.exec(at)?.[1];
	const what =
		index === undefined
			? poseRad.map((angle) => formatQuantity("angle", angle)).join(", ")
			: formatQuantity("angle", poseRad[Number(index)]!);
	return `Limb at ${what}: expected ${expected}.`;
}

/** Every hinge from folded; null: folded, and the load where it is carried. */
export function setPose(point: string, poseRad: readonly number[] | null, joins?: string): Command {
	return {
		name: poseRad ? `pose of the limb, ${point}` : `limb folded, ${point}`,
		...(joins === undefined ? {} : { joins }),
		apply(state) {
			if (poseRad) {
				const loaded = loadDocument(state.document);
				if (!loaded.ok) throw new RangeError(`mend the scenario first: ${loaded.errors[0]?.message}`);
				const refused = poseRefusal(loaded.scenario.craft, poseRad);
				if (refused) throw new RangeError(refused);
			}
			const limb = poseRad ? poseRad.map((angle) => formatQuantity("angle", angle, 6)) : undefined;
			return changePoint(state, point, { limb });
		},
	};
}
