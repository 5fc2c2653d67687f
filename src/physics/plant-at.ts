import { combineBodies } from "../craft/mass.ts";
import type { Battery, Craft, OperatingPoint } from "../craft/model.ts";
import * as mat3 from "../math/mat3.ts";
import type { Vec3 } from "../math/types.ts";
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
function loadMassAt(craft: Craft, point: OperatingPoint): number {
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

export interface CarriedLoad {
	readonly massKg: number;
	readonly positionM: Vec3;
}

/** What hangs on the craft at an operating point. */
export function loadsAt(craft: Craft, point: OperatingPoint): CarriedLoad[] {
	const massKg = loadMassAt(craft, point);
	return massKg > 0 ? [{ massKg, positionM: craft.load.positionM }] : [];
}

/** `plantAt` with other loads than the point's own (taken up or let go in flight). */
export function plantWithLoads(craft: Craft, point: OperatingPoint, loads: readonly CarriedLoad[]): Plant {
	const perMass = craft.load.massKg > 0 ? 1 / craft.load.massKg : 0;
	const whole = combineBodies([
		craft.bare,
		...loads.map((load) => ({
			massKg: load.massKg,
			centreOfMassM: load.positionM,
			inertiaKgM2: mat3.scale(craft.load.inertiaKgM2, load.massKg * perMass),
		})),
	]);
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
