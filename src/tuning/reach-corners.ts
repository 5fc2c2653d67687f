import { cornerName, corners as cornersOf } from "../analysis/corners.ts";
import type { Craft, OperatingPoint } from "../craft/model.ts";
import { reachPoses } from "./reach-pose.ts";
import type { TuneCorner } from "./result.ts";

const DEG = 180 / Math.PI;

/** Poses whose corners a search has to keep; the proof looks at more. */
const TUNED_POSES = 5;

/** Such as 'boom 90 deg, scoop -90 deg'. */
const poseWords = (craft: Craft, poseRad: readonly number[]): string =>
	craft.limb!.links.map(({ name }, i) => `${name} ${(poseRad[i]! * DEG).toFixed(0)} deg`).join(", ");

/** Such as 'boom 90 deg, scoop -90 deg with 150 g'. */
export const nameAt = (craft: Craft, poseRad: readonly number[], loadKg: number): string =>
	`${poseWords(craft, poseRad)} with ${loadKg > 0 ? `${(1000 * loadKg).toFixed(0)} g` : "no load"}`;

/**
 * The craft's own corners, and in hover those of every pose on the way out with the load in the grip: one gain set that keeps its limits in all of them
 * serves the whole reach. Poses that are refused, or in which the craft cannot hover, are left out by whoever flies or tunes in them.
 */
export function envelopeCorners(craft: Craft, poseCount = TUNED_POSES): TuneCorner[] {
	const own = cornersOf(craft);
	const hover = own.filter(({ point }) => point.throttle === "hover");
	const poses = reachPoses(craft, poseCount).filter(({ refused }) => refused === "");
	return [
		...own,
		...poses.flatMap(({ poseRad }) =>
			hover.map(({ point }): TuneCorner => {
				const at: OperatingPoint = { ...point, limbRad: poseRad };
				return { name: `${cornerName(point)}, ${poseWords(craft, poseRad)}`, point: at };
			}),
		),
	];
}

/** Every hover corner at one pose with one load in the grip. */
export function cornersAt(craft: Craft, limbRad: readonly number[], massKg: number): TuneCorner[] {
	const load: OperatingPoint["load"] = massKg > 0 ? { massKg } : "none";
	return cornersOf(craft)
		.filter(({ point }) => point.throttle === "hover" && point.load === "none")
		.map(({ point }) => {
			const at: OperatingPoint = { ...point, load, limbRad };
			return { name: `${cornerName(at)}, ${poseWords(craft, limbRad)}`, point: at };
		});
}
