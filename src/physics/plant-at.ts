import { combineBodies } from "../craft/mass.ts";
import type { Battery, Craft, MassProperties, OperatingPoint } from "../craft/model.ts";
import * as mat3 from "../math/mat3.ts";
import type { Vec3 } from "../math/types.ts";
import * as vec3 from "../math/vec3.ts";
import { wholeAt } from "./joint-tree.ts";
import { type CarriedLoad, limbTree, loadBody, swings } from "./limb-tree.ts";
import { type Plant, STANDARD_GRAVITY } from "./plant.ts";

/** Open-circuit voltage at a state of charge, straight lines between the given points, ends held. */
function openCircuitVoltage(battery: Battery, stateOfCharge: number): number {
	const { stateOfCharge: s, openCircuitV: v } = battery;
	const last = s.length - 1;
	if (stateOfCharge <= s[0]!) return v[0]!;
	for (let i = 0; i < last; i++)
		if (stateOfCharge <= s[i + 1]!)
			return v[i]! + ((v[i + 1]! - v[i]!) * (stateOfCharge - s[i]!)) / (s[i + 1]! - s[i]!);
	return v[last]!;
}

/** State of charge that an operating point names. */
function stateOfChargeAt(battery: Battery, point: OperatingPoint): number {
	if (typeof point.battery === "object") return point.battery.stateOfCharge;
	return battery[point.battery];
}

/** Mass of the load that an operating point names, kg. */
export function loadMassAt(craft: Craft, point: OperatingPoint): number {
	if (point.load === "none") return 0;
	return point.load === "heaviest" ? craft.load.massKg : point.load.massKg;
}

/**
 * The craft as the equations of motion read it at one operating point. A load other than the heaviest scales that
 * one's inertia with its mass. Rotor coefficients scale with air density (docs/model.md section 4) and with the corner's
 * thrust factor; the inertia factor multiplies the whole tensor, load included.
 * @throws RangeError when the total mass is not positive.
 */
export function plantAt(craft: Craft, point: OperatingPoint): Plant {
	return plantWithLoads(craft, point, loadsAt(craft, point));
}

/** What hangs on the craft at an operating point: in the grip where the point names a pose of the limb. */
export function loadsAt(craft: Craft, point: OperatingPoint): CarriedLoad[] {
	const massKg = loadMassAt(craft, point);
	if (!(massKg > 0)) return [];
	const { limb, load } = craft;
	if (limb && (load.inGrip || point.limbRad)) {
		const offset = load.gripOffsetM ?? [0, 0, 0];
		return [{ massKg, positionM: vec3.add(limb.gripM, offset), inGrip: true }];
	}
	return [{ massKg, positionM: load.positionM }];
}

/** The pose of the limb at a point; folded where it names none. */
export const poseAt = (craft: Craft, point: OperatingPoint): readonly number[] =>
	point.limbRad ?? craft.limb?.links.map(() => 0) ?? [];

/** `plantAt` with other loads than the point's own (taken up or let go in flight); what hangs does so along `down`, body axes. */
export function plantWithLoads(
	craft: Craft,
	point: OperatingPoint,
	loads: readonly CarriedLoad[],
	down?: Vec3,
): Plant {
	const pose = poseAt(craft, point);
	if (pose.every((angle) => angle === 0) && !swings(craft, loads))
		return plantOf(craft, point, combineBodies([craft.bare, ...loads.map((load) => loadBody(craft, load))]));
	const { tree, startRad } = limbTree(craft, loads, pose, down);
	return plantOf(craft, point, wholeAt(tree, startRad));
}

/** The craft with these mass properties, corner factors not yet in its inertia. */
export function plantOf(craft: Craft, point: OperatingPoint, whole: MassProperties): Plant {
	if (!(whole.massKg > 0)) throw new RangeError(`plantAt: total mass ${whole.massKg} kg, expected above 0`);
	const { propulsion, battery, airframe } = craft;
	const density = craft.air.densityKgM3 / propulsion.referenceDensityKgM3;
	const strength = density * point.thrustFactor;
	return {
		massKg: whole.massKg,
		centreOfMassM: whole.centreOfMassM,
		inertiaKgM2: mat3.scale(whole.inertiaKgM2, point.inertiaFactor),
		rotors: craft.rotors.map((rotor) => ({
			positionM: rotor.positionM,
			axis: rotor.axis,
			spin: rotor.spin,
			radiusM: propulsion.radiusM,
			thrustCoefficient: propulsion.thrustCoefficient * strength,
			torqueCoefficient: propulsion.torqueCoefficient * strength,
			inflowCoefficient: propulsion.inflowCoefficient * density,
			inPlaneDragCoefficient: propulsion.inPlaneDragCoefficient * density,
			inertiaKgM2: propulsion.rotorInertiaKgM2,
			tauUpSec: propulsion.tauUpSec * point.motorLagFactor,
			tauDownSec: propulsion.tauDownSec * point.motorLagFactor,
			speedFactor: rotor.speedFactor,
		})),
		curve: propulsion.curve,
		openCircuitV: openCircuitVoltage(battery, stateOfChargeAt(battery, point)),
		resistanceOhm: battery.resistanceOhm,
		efficiency: battery.efficiency,
		avionicsPowerW: battery.avionicsPowerW,
		brownOutV: battery.brownOutV,
		airDensityKgM3: craft.air.densityKgM3,
		dragAreaM2: airframe.dragAreaM2,
		centreOfPressureM: airframe.centreOfPressureM,
		groundEffect: airframe.groundEffect,
		feetBelowM: airframe.feetBelowM,
		spanM: airframe.spanM,
		gravityMPerSec2: STANDARD_GRAVITY,
	};
}
