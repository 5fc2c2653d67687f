import type { Craft, OperatingPoint } from "../../craft/model.ts";
import type { Drill } from "../../flight/drill.ts";
import * as mat3 from "../../math/mat3.ts";
import { toMatrix } from "../../math/quaternion.ts";
import * as vec3 from "../../math/vec3.ts";
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

/** How the craft stands at an instant of a flight. A trace's place is the centre of mass of the whole, which moves in the airframe with pose, load and swing. */
export function standingAt(
	craft: Craft,
	point: OperatingPoint,
	drill: Drill,
	pose: Pick<Pose, "attitude" | "limbRad" | "hangs">,
	timeSec: number,
): Standing {
	const loads = loadsDuring(craft, point, drill, timeSec);
	const poseRad = pose.limbRad ?? poseOf(craft, point);
	const toBody = mat3.transpose(toMatrix(pose.attitude));
	const down = mat3.times(toBody, [0, 0, 1]);
	const hangs = loads.map((_, i) => (pose.hangs[i] ? mat3.times(toBody, pose.hangs[i]) : down));
	const posed = craft.limb ? { ...point, limbRad: poseRad } : point;
	const { massKg, centreOfMassM } = plantWithLoads(craft, posed, loads, down);
	// What swings moves the centre of the whole by its share of the mass.
	const { share, lengthM } = swinging(craft);
	const centreM = loads.reduce(
		(centre, load, i) =>
			vec3.add(centre, vec3.scale(vec3.subtract(hangs[i]!, down), (share * lengthM * load.massKg) / massKg)),
		centreOfMassM,
	);
	return { poseRad, loads, hangs, centreM };
}

/** How much of a load swings, and how far from where it hangs. */
const swinging = ({
	load: { tether, liquid },
}: Craft): { readonly share: number; readonly lengthM: number } =>
	tether ? { share: 1, lengthM: tether.lengthM } : (liquid ?? { share: 0, lengthM: 0 });
