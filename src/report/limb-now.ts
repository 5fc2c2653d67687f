import { type Clearance, clearanceAt } from "../craft/limb-pose.ts";
import type { Craft, OperatingPoint } from "../craft/model.ts";
import { createTreePoser } from "../physics/joint-tree.ts";
import { limbTree } from "../physics/limb-tree.ts";
import { STANDARD_GRAVITY } from "../physics/plant.ts";
import { loadsAt, poseAt } from "../physics/plant-at.ts";

/** A link at an operating point, level and still. */
interface LinkNow {
	readonly name: string;
	readonly angleRad: number;
	/** That the servo holds it with against gravity; positive along the hinge. */
	readonly torqueNm: number;
	readonly limitNm: number;
	/** In proportion to its stall current. */
	readonly currentA: number;
}

export interface LimbNow {
	readonly links: readonly LinkNow[];
	readonly clearance: Clearance;
}

/**
 * The limb at an operating point: pose, nearest propeller, and the torque that each servo needs to hold still. In a level hover the rotors carry the weight, so that what a
 * servo holds is how fast the height of the common centre of mass changes with its hinge: torque = -m g dz/dangle, z down (virtual work). Null: no limb.
 */
export function limbNow(craft: Craft, point: OperatingPoint): LimbNow | null {
	const { limb } = craft;
	if (!limb) return null;
	const pose = poseAt(craft, point);
	const { tree, startRad } = limbTree(craft, loadsAt(craft, point), pose);
	const poser = createTreePoser(tree);
	const joints = new Float64Array(2 * tree.bodies.length);
	joints.set(startRad);
	poser.pose(joints);
	const { massKg, shift } = poser.posture;
	return {
		clearance: clearanceAt(craft, pose),
		links: limb.links.map(({ name, servo }, i) => {
			const torqueNm = -massKg * STANDARD_GRAVITY * shift[3 * i + 2]!;
			const limitNm = servo.torqueLimitNm;
			return {
				name,
				angleRad: pose[i]!,
				torqueNm,
				limitNm,
				currentA: (servo.stallCurrentA * Math.abs(torqueNm)) / limitNm,
			};
		}),
	};
}
