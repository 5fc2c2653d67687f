import type { Craft, OperatingPoint } from "../craft/model.ts";
import { curveSpeed } from "../craft/speed-curve.ts";
import type { Plant } from "../physics/plant.ts";
import { plantAt } from "../physics/plant-at.ts";
import type { Trim, TrimResult } from "../physics/trim.ts";
import { corners } from "./corners.ts";
import type { HoverReport } from "./craft-report-types.ts";
import { mixerOf, trimOf } from "./linearise.ts";

/** Steady rotors on a sagging battery with the craft standing still. */
export interface Pull {
	/** Along -z of the body, N. */
	readonly liftN: number;
	readonly voltageV: number;
	readonly powerW: number;
	/** The battery has no steady voltage at this load. */
	readonly brownOut: boolean;
	/** Most that the battery can give at all: V0^2 / 4R. */
	readonly mostPowerW: number;
}

/** Lift with these commands. Voltage and speed settle together: halving the voltage always finds the higher of the two balances. */
export function pullAt(plant: Plant, commands: ArrayLike<number>): Pull {
	const at = (volts: number): { lift: number; power: number } => {
		let lift = 0;
		let shaft = 0;
		plant.rotors.forEach((rotor, i) => {
			const w =
				(volts / plant.curve.referenceVoltageV) * curveSpeed(plant.curve, commands[i]!) * rotor.speedFactor;
			lift -= rotor.thrustCoefficient * w * w * rotor.axis[2];
			shaft += rotor.torqueCoefficient * w ** 3;
		});
		return { lift, power: shaft / plant.efficiency + plant.avionicsPowerW };
	};
	// Open-circuit voltage less drop less voltage falls with voltage: one balance.
	const miss = (v: number): number => plant.openCircuitV - (plant.resistanceOhm * at(v).power) / v - v;
	let low = 0.5 * plant.openCircuitV;
	let high = plant.openCircuitV;
	const brownOut = miss(low) < 0;
	for (let i = 0; i < 60 && !brownOut; i++) {
		const middle = (low + high) / 2;
		if (miss(middle) > 0) low = middle;
		else high = middle;
	}
	const { lift, power } = at(low);
	const mostPowerW = plant.openCircuitV ** 2 / (4 * plant.resistanceOhm);
	return { liftN: lift, voltageV: low, powerW: power, brownOut, mostPowerW };
}

export const fullCommands = (plant: Plant): Float64Array => new Float64Array(plant.rotors.length).fill(1);

/** Hover at an operating point, whatever throttle that names. */
export function hoverTrim(craft: Craft, point: OperatingPoint): { plant: Plant; result: TrimResult } {
	const hover = { ...point, throttle: "hover" as const };
	const plant = plantAt(craft, hover);
	return { plant, result: trimOf(craft, plant, hover) };
}

export function hoverReport(craft: Craft, point: OperatingPoint, plant: Plant, trim: Trim): HoverReport {
	const mean = (list: Float64Array): number => list.reduce((a, b) => a + b, 0) / list.length;
	const weight = plant.massKg * plant.gravityMPerSec2;
	const life = endurance(craft, point);
	return {
		command: mean(trim.commands),
		stick: trim.throttle,
		stickRange: stickRange(craft, point, trim.throttle),
		rotorSpeedRadPerSec: mean(trim.speedsRadPerSec),
		thrustToWeight: pullAt(plant, fullCommands(plant)).liftN / weight,
		powerW: trim.electricalPowerW,
		voltageV: trim.voltageV,
		enduranceMin: typeof life === "number" ? life : null,
		whyNoEndurance: typeof life === "number" ? "" : life,
		throttleSlope: throttleSlope(craft, plant, trim),
	};
}

/** Upward acceleration that one per cent of stick makes once the rotors have settled. */
function throttleSlope(craft: Craft, plant: Plant, trim: Trim): number {
	const mixer = mixerOf(craft);
	const shifted = (by: number): number =>
		pullAt(
			plant,
			trim.commands.map((c) => c + by * mixer.slope(c, trim.voltageV)),
		).liftN;
	const step = 1e-4;
	return (0.01 * (shifted(step) - shifted(-step))) / (2 * step * plant.massKg);
}

/** Least and largest hover stick over battery, load and thrust corners that can hover. */
function stickRange(craft: Craft, point: OperatingPoint, here: number): [number, number] {
	let low = here;
	let high = here;
	for (const { point: at } of corners(craft, point)) {
		if (at.throttle !== "hover" || at.inertiaFactor < 1 || at.motorLagFactor < 1) continue;
		const { result } = hoverTrim(craft, at);
		if (!result.feasible) continue;
		low = Math.min(low, result.trim.throttle);
		high = Math.max(high, result.trim.throttle);
	}
	return [low, high];
}

const CHARGE_STEPS = 16;

/** Minutes of hover from full to nearly empty by Simpson's rule over the charge, or why there is no such number. */
function endurance(craft: Craft, point: OperatingPoint): number | string {
	const { full, nearlyEmpty, capacityAmpereHours } = craft.battery;
	let hours = 0;
	for (let i = 0; i <= CHARGE_STEPS; i++) {
		const stateOfCharge = nearlyEmpty + ((full - nearlyEmpty) * i) / CHARGE_STEPS;
		const { result } = hoverTrim(craft, { ...point, battery: { stateOfCharge } });
		if (!result.feasible) return `at ${Math.round(100 * stateOfCharge)} % charge: ${result.reason}`;
		const current = result.trim.electricalPowerW / result.trim.voltageV;
		const weight = i === 0 || i === CHARGE_STEPS ? 1 : i % 2 === 1 ? 4 : 2;
		hours += (weight * capacityAmpereHours) / current;
	}
	return (60 * hours * (full - nearlyEmpty)) / (3 * CHARGE_STEPS);
}
