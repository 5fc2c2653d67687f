import { fixedSet } from "../control/schedule.ts";
import type { FixedGainSet, GainSet } from "../control/spec.ts";
import type { Craft, OperatingPoint } from "../craft/model.ts";
import { loadMassAt, poseAt } from "./plant-at.ts";

/** The set as it stands at an operating point's pose and load: what every linear answer there is about. */
export const gainsAt = (craft: Craft, set: GainSet, point: OperatingPoint): FixedGainSet =>
	fixedSet(set, set.schedule ? (poseAt(craft, point)[set.schedule.link] ?? 0) : 0, loadMassAt(craft, point));
