import type { GainSet } from "../control/spec.ts";
import type { Craft, OperatingPoint } from "../craft/model.ts";
import type { Limits } from "./characters.ts";
import {
	createReach,
	failed,
	type HeaviestAt,
	heaviestAt,
	type ReachMargins,
	type ReachStatics,
} from "./reach.ts";
import { type ReachPose, reachPoses } from "./reach-pose.ts";

/** One load at one pose. */
export interface ReachCell {
	readonly massKg: number;
	/** Null with the reason where it cannot hover so. */
	readonly statics: ReachStatics | null;
	readonly margins: ReachMargins | null;
	readonly why: string;
}

export interface ReachLine {
	readonly pose: ReachPose;
	readonly heaviest: HeaviestAt;
	/** Without a load, and with the heaviest that the craft is meant to carry; empty where the pose is refused. */
	readonly cells: readonly ReachCell[];
}

export interface ReachReport {
	readonly lines: readonly ReachLine[];
	/** Of the craft file; 0: none stated. */
	readonly statedKg: number;
	/** The most that was tried. */
	readonly mostKg: number;
	/** Farthest pose with the stated load (or none) and everything before it at which all holds; null: not even folded. */
	readonly farthest: ReachLine | null;
}

export interface ReachOptions {
	readonly poses: number;
	readonly mostKg: number;
}

/** Poses where nothing else is said. */
export const REACH_POSES = 9;

/** The most load that is tried where nothing else is said: three times the stated, or half the bare mass. */
export const mostLoad = (craft: Craft): number =>
	craft.load.massKg > 0 ? 3 * craft.load.massKg : 0.5 * craft.bare.massKg;

/** Line by line, since each takes about a second: the caller may stop between them. */
export function* reachLines(
	craft: Craft,
	set: GainSet,
	limits: Limits,
	base: OperatingPoint,
	options: ReachOptions,
): Generator<ReachLine> {
	const reach = createReach(craft, set, limits, base);
	const stated = craft.load.massKg;
	for (const pose of reachPoses(craft, options.poses)) {
		const cells = (pose.refused ? [] : stated > 0 ? [0, stated] : [0]).map((massKg): ReachCell => {
			const statics = reach.statics(pose.poseRad, massKg);
			if (failed(statics)) return { massKg, statics: null, margins: null, why: statics.reason };
			const margins = reach.margins(pose.poseRad, massKg);
			return failed(margins)
				? { massKg, statics, margins: null, why: margins.reason }
				: { massKg, statics, margins, why: "" };
		});
		yield { pose, heaviest: heaviestAt(reach, pose, options.mostKg), cells };
	}
}

export function reachReport(craft: Craft, lines: readonly ReachLine[], mostKg: number): ReachReport {
	const statedKg = craft.load.massKg;
	let farthest: ReachLine | null = null;
	for (const line of lines) {
		const { heaviestKg } = line.heaviest;
		if (heaviestKg === null || heaviestKg < statedKg) break;
		farthest = line;
	}
	return { lines, statedKg, mostKg, farthest };
}
