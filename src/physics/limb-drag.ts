import type { Craft } from "../craft/model.ts";
import type { Vec3 } from "../math/types.ts";
import * as vec3 from "../math/vec3.ts";
import { createLimbForces, type DragPlace, GRIP, type LimbForces } from "./limb-forces.ts";
import type { CarriedLoad, LimbTree } from "./limb-tree.ts";

/** Drag coefficient of a cube across the flow (Hoerner, Fluid-Dynamic Drag, 1965, from memory); a load is taken for a cube as dense as water. */
const LOAD_DRAG = 1.05;
const WATER_KG_PER_M3 = 1000;

const loadDragAreaM2 = (massKg: number): number => LOAD_DRAG * Math.cbrt(massKg / WATER_KG_PER_M3) ** 2;

/** Wind and wash on each link at its middle, and on what hangs or is held in the grip at its own. `grip`: what holds the grip to the world; default nothing. */
export function limbForces(
	craft: Craft,
	made: LimbTree,
	loads: readonly CarriedLoad[],
	grip: Float64Array = new Float64Array(GRIP.length),
): LimbForces {
	return forcesOf(craft, made, dragPlaces(craft, made, loads), grip);
}

/** The same forces, only those on what hangs from free hinges. */
export function hangingForces(craft: Craft, made: LimbTree, loads: readonly CarriedLoad[]): LimbForces {
	const first = made.tree.bodies.length - made.hanging;
	const places = dragPlaces(craft, made, loads).filter(({ body }) => body >= first);
	return forcesOf(craft, made, places, new Float64Array(GRIP.length));
}

const fromCentre = (made: LimbTree, placeM: Vec3, body: number): Vec3 =>
	vec3.subtract(placeM, made.tree.bodies[body]?.mass.centreOfMassM ?? placeM);

const lastLink = (craft: Craft): number => Math.max(0, (craft.limb?.links.length ?? 0) - 1);

function dragPlaces(craft: Craft, made: LimbTree, loads: readonly CarriedLoad[]): DragPlace[] {
	const links = craft.limb?.links ?? [];
	const last = lastLink(craft);
	const places: DragPlace[] = links.map(({ hingeM, tipM, dragAreaM2 }, body) => ({
		body,
		fromCentreM: fromCentre(made, vec3.scale(vec3.add(hingeM, tipM), 0.5), body),
		areaM2: dragAreaM2,
	}));
	loads.forEach(({ massKg, positionM, inGrip }, i) => {
		const areaM2 = loadDragAreaM2(massKg);
		if (craft.load.tether) places.push({ body: links.length + 2 * i + 1, fromCentreM: [0, 0, 0], areaM2 });
		else if (inGrip && craft.limb)
			places.push({ body: last, fromCentreM: fromCentre(made, positionM, last), areaM2 });
	});
	return places;
}

function forcesOf(craft: Craft, made: LimbTree, drag: readonly DragPlace[], grip: Float64Array): LimbForces {
	const parents = made.tree.bodies.map(({ parent }) => parent);
	const last = lastLink(craft);
	return createLimbForces({
		drag,
		grip,
		gripBody: last,
		gripFromCentreM: craft.limb ? fromCentre(made, craft.limb.gripM, last) : [0, 0, 0],
		airDensityKgM3: craft.air.densityKgM3,
		rotorRadiusM: craft.propulsion.radiusM,
		carries(i, b) {
			for (let at = b; at >= 0; at = parents[at]!) if (at === i) return true;
			return false;
		},
	});
}
