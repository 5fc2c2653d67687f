import type { Limb } from "../craft/limb-model.ts";
import { clearanceAt, LEAST_CLEARANCE_M } from "../craft/limb-pose.ts";
import type { Craft } from "../craft/model.ts";
import { createJointDrives, JOINT, jointStateSize } from "../physics/joint-drives.ts";
import { createJointProfiles } from "../physics/joint-profiles.ts";
import { limbTree } from "../physics/limb-tree.ts";
import type { Drill, DrillEvent } from "./drill.ts";

export type LimbMove = Extract<DrillEvent, { kind: "limb" }>;

/** Where a limb comes too near a propeller. */
export interface NearMiss {
	readonly atSec: number;
	/** Index into the moves of the one that began last before it. */
	readonly move: number;
	readonly metres: number;
	readonly of: string;
	readonly rotor: string;
}

const STEP_SEC = 2e-3;
/** Between two looks, rad: 2 mm at 100 mm. */
const LOOK_RAD = 0.02;
/** The servos are on their targets so long after the last of their moves could have ended. */
const SETTLE_SEC = 2;

/**
 * The first time at which the limb, moved by its servos' own laws (all links at once, no torque limit, stiff), comes too near a propeller; null: never. `moves` by time. Between two looks no joint
 * turns more than 0.02 rad, so a miss may go unseen by that much.
 */
export function nearMiss(
	craft: Craft,
	poseRad: readonly number[],
	moves: readonly LimbMove[],
): NearMiss | null {
	const { limb, rotors, propulsion } = craft;
	if (!limb || moves.length === 0) return null;
	// A file that is read anew, as with every change on the page, mostly has the limb and the drills that it had.
	const asked = JSON.stringify([limb, rotors, propulsion.radiusM, poseRad, moves]);
	let found = known.get(asked);
	if (found === undefined) {
		if (known.size >= MOST_KNOWN) known.clear();
		found = walk(craft, limb, poseRad, moves);
		known.set(asked, found);
	}
	return found;
}

/** Ways that were walked, by all that they depend on. */
const known = new Map<string, NearMiss | null>();
const MOST_KNOWN = 200;

function walk(
	craft: Craft,
	limb: Limb,
	poseRad: readonly number[],
	moves: readonly LimbMove[],
): NearMiss | null {
	const n = limb.links.length;
	const laws = limbTree(craft, [], poseRad).drives.map((drive) =>
		drive.kind === "hanging" ? drive : { ...drive, kind: "servo" as const, jitterRad: 0 },
	);
	const drives = createJointDrives(laws);
	const profiles = createJointProfiles(n);
	const own = new Float64Array(jointStateSize(n));
	for (const block of [JOINT.angle, JOINT.target]) own.set(poseRad, block * n);
	const asked = new Float64Array(n);
	const looked = Array.from(poseRad);
	let next = 0;
	let clock = moves[0]!.atSec;
	own[JOINT.blocks * n] = clock;
	const look = (): NearMiss | null => {
		for (let i = 0; i < n; i++) looked[i] = own[i]!;
		const { metres, of, rotor } = clearanceAt(craft, looked);
		return metres < LEAST_CLEARANCE_M
			? { atSec: clock, move: Math.max(0, next - 1), metres, of, rotor }
			: null;
	};
	let quietSec = 0;
	while (next < moves.length || quietSec < SETTLE_SEC) {
		for (; next < moves.length && moves[next]!.atSec <= clock + STEP_SEC / 2; next++) {
			begin(own, n, moves[next]!, profiles);
			quietSec = 0;
		}
		if (next < moves.length && quietSec >= SETTLE_SEC) clock = moves[next]!.atSec - STEP_SEC;
		drives.ask(own, asked);
		clock += STEP_SEC;
		own[JOINT.blocks * n] = clock;
		let fastest = 0;
		let moved = 0;
		for (let i = 0; i < n; i++) {
			if (!profiles.leads(i)) {
				own[n + i]! += STEP_SEC * asked[i]!;
				own[i]! += STEP_SEC * own[n + i]!;
			}
			fastest = Math.max(fastest, Math.abs(own[n + i]!));
		}
		profiles.prescribe(own, n, asked);
		profiles.finish(own, n);
		for (let i = 0; i < n; i++) moved = Math.max(moved, Math.abs(own[i]! - looked[i]!));
		quietSec = fastest > 1e-3 || profiles.any ? 0 : quietSec + STEP_SEC;
		if (moved > LOOK_RAD || (quietSec > 0 && moved > 1e-6)) {
			const miss = look();
			if (miss) return miss;
		}
	}
	return null;
}

function begin(
	own: Float64Array,
	n: number,
	{ link, angleRad, overSec, profile }: LimbMove,
	profiles: ReturnType<typeof createJointProfiles>,
): void {
	if (profile) {
		profiles.follow(own, n, link, profile);
		return;
	}
	profiles.leave(link);
	own[JOINT.target * n + link] = angleRad;
	own[JOINT.pace * n + link] = overSec ? Math.abs(angleRad - own[link]!) / overSec : 0;
}

/** The moves of a drill, by time. */
export const movesOf = (drill: Pick<Drill, "events">): LimbMove[] =>
	drill.events.filter((event) => event.kind === "limb").sort((a, b) => a.atSec - b.atSec);
