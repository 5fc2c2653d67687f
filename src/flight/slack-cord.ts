import type { Craft } from "../craft/model.ts";
import type { Vec3 } from "../math/types.ts";
import * as vec3 from "../math/vec3.ts";
import { BODY, type Posture } from "../physics/joint-tree.ts";
import type { CarriedLoad } from "../physics/limb-tree.ts";
import { writeTurn } from "../physics/turn.ts";

/** A load that stands on the ground, tied to the craft by a cord that is not yet taut: nothing acts along it. */
export interface SlackCord {
	readonly load: CarriedLoad;
	/** Whether the cord is at its length now. Allocates nothing. */
	taut(posture: Posture, x: Float64Array): boolean;
	/** As `taut` found it: how long, and which way the load is, body axes. */
	lengthM(): number;
	down(): Vec3;
}

/** `middleM`: of the load as it stands, world. */
export function createSlackCord(
	{ limb }: Craft,
	each: CarriedLoad,
	middleM: Vec3,
	lengthM: number,
): SlackCord {
	const last = each.inGrip && limb ? limb.links.length - 1 : -1;
	const from = Float64Array.from(
		last < 0 ? each.positionM : vec3.subtract(each.positionM, limb!.links[last]!.hingeM),
	);
	const turn = new Float64Array(9);
	const tied = new Float64Array(3);
	/** From where it is tied to the load's middle, world. */
	const along = new Float64Array(3);
	return {
		load: each,
		taut({ bodies, centre }, x) {
			const at = BODY.length * last;
			for (let k = 0; k < 3; k++)
				tied[k] =
					last < 0
						? from[k]!
						: bodies[at + BODY.hinge + k]! +
							bodies[at + 3 * k]! * from[0]! +
							bodies[at + 3 * k + 1]! * from[1]! +
							bodies[at + 3 * k + 2]! * from[2]!;
			writeTurn(x, turn);
			let sum = 0;
			for (let k = 0; k < 3; k++) {
				along[k] = middleM[k]! - x[k]!;
				for (let j = 0; j < 3; j++) along[k]! -= turn[3 * k + j]! * (tied[j]! - centre[j]!);
				sum += along[k]! * along[k]!;
			}
			return sum >= lengthM * lengthM;
		},
		lengthM: () => vec3.length([along[0]!, along[1]!, along[2]!]),
		down() {
			const inBody = [0, 1, 2].map(
				(k) => turn[k]! * along[0]! + turn[3 + k]! * along[1]! + turn[6 + k]! * along[2]!,
			) as unknown as Vec3;
			return vec3.scale(inBody, 1 / vec3.length(inBody));
		},
	};
}
