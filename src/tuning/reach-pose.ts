import { clearanceAt, gripPlace, poseProblems } from "../craft/limb-pose.ts";
import type { Craft } from "../craft/model.ts";
import type { Vec3 } from "../math/types.ts";

/** A pose of the limb and how far its grip then is from the craft's middle, sideways. */
export interface ReachPose {
	readonly poseRad: readonly number[];
	/** From the bare craft's centre of mass, level. */
	readonly reachM: number;
	readonly gripM: Vec3;
	/** To the nearest propeller disc. */
	readonly clearanceM: number;
	/** Empty, or why the pose is refused. */
	readonly refused: string;
}

/**
 * Poses from folded to the first hinge's far stop in equal steps, the last link kept in its folded attitude where hinges are parallel and travel allows: what is held
 * does not tip out.
 */
export function reachPoses(craft: Craft, count: number): ReachPose[] {
	const { limb } = craft;
	if (!limb) throw new RangeError("reachPoses: craft.limb is not there, expected a craft with a limb");
	const [low, high] = limb.links[0]!.travelRad;
	const far = Math.abs(high) >= Math.abs(low) ? high : low;
	return Array.from({ length: count }, (_, k) => levelPose(craft, (far * k) / (count - 1)));
}

/** Poses at which margins are frozen. */
const FROZEN_POSES = 21;
export const frozenPoses = (craft: Craft): ReachPose[] =>
	reachPoses(craft, FROZEN_POSES).filter(({ refused }) => refused === "");

function levelPose(craft: Craft, firstRad: number): ReachPose {
	const limb = craft.limb!;
	const poseRad = limb.links.map((_, i) => (i === 0 ? firstRad : 0));
	const last = limb.links.length - 1;
	if (last > 0) {
		const [a, b] = [limb.links[0]!.axis, limb.links[last]!.axis];
		const along = a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
		const [low, high] = limb.links[last]!.travelRad;
		if (Math.abs(along) > 0.99) poseRad[last] = Math.max(low, Math.min(high, -Math.sign(along) * firstRad));
	}
	return describePose(craft, poseRad);
}

function describePose(craft: Craft, poseRad: readonly number[]): ReachPose {
	const gripM = gripPlace(craft.limb!, poseRad);
	const c = craft.bare.centreOfMassM;
	const [problem] = poseProblems(craft, poseRad);
	return {
		poseRad,
		gripM,
		reachM: Math.hypot(gripM[0] - c[0], gripM[1] - c[1]),
		clearanceM: clearanceAt(craft, poseRad).metres,
		refused: problem ? problem[1] : "",
	};
}
