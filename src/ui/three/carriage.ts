import type { Craft, OperatingPoint } from "../../craft/model.ts";
import type { Drill } from "../../flight/drill.ts";
import * as mat3 from "../../math/mat3.ts";
import { toMatrix } from "../../math/quaternion.ts";
import type { Vec3 } from "../../math/types.ts";
import type { CarriedLoad } from "../../physics/limb-tree.ts";
import { loadsAt, plantWithLoads, poseAt as poseOf } from "../../physics/plant-at.ts";
import type { Standing } from "./craft-body.ts";
import type { Pose } from "./motion.ts";

/** What hangs on the craft at an instant of a drill: the operating point's load, and what events took up or let go until then. */
export function loadsDuring(
	craft: Craft,
	point: OperatingPoint,
	drill: Drill,
	timeSec: number,
): readonly CarriedLoad[] {
	let loads = loadsAt(craft, point);
	for (const event of [...drill.events].sort((a, b) => a.atSec - b.atSec)) {
		if (event.atSec > timeSec) break;
		if (event.kind === "letGo") loads = [];
		else if (event.kind === "takeUp") {
			const { massKg, positionM, inGrip } = event;
			loads = [...loads, { massKg, positionM, ...(inGrip && { inGrip: true }) }];
		}
	}
	return loads;
}

/**
 * How the craft stands at an instant of a flight. A trace's place is the centre of mass of the whole, which moves in the airframe with pose and load. What hangs is
 * taken to do so straight down: traces say how far it swings, not which way.
 */
export function standingAt(
	craft: Craft,
	point: OperatingPoint,
	drill: Drill,
	pose: Pick<Pose, "attitude" | "limbRad">,
	timeSec: number,
): Standing {
	const loads = loadsDuring(craft, point, drill, timeSec);
	const poseRad = pose.limbRad ?? poseOf(craft, point);
	const down: Vec3 = mat3.times(mat3.transpose(toMatrix(pose.attitude)), [0, 0, 1]);
	const posed = craft.limb ? { ...point, limbRad: poseRad } : point;
	return { poseRad, loads, down, centreM: plantWithLoads(craft, posed, loads, down).centreOfMassM };
}
