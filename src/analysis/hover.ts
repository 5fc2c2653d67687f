import type { Craft, OperatingPoint } from "../craft/model.ts";
import { heaveAt } from "../physics/heave.ts";
import type { Plant } from "../physics/plant.ts";
import { fullCommands, pullAt } from "../physics/pull.ts";
import type { Settled, Trim } from "../physics/trim.ts";
import { corners } from "./corners.ts";
import type { HoverReport } from "./craft-report-types.ts";
import { mixerOf, settled } from "./linearise.ts";

/** Hover at an operating point, whatever throttle that names. */
export const hoverTrim = (craft: Craft, point: OperatingPoint): Settled =>
	settled(craft, { ...point, throttle: "hover" });

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
		throttleSlope: 0.01 * heaveAt(plant, mixerOf(craft), trim).slope,
	};
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
