import { type Craft, NOMINAL_POINT, type OperatingPoint } from "../craft/model.ts";
import type { Corner } from "./report-types.ts";

/**
 * Every worst-case combination once: battery full and nearly empty, load none and heaviest, inertia, thrust and motor lag at
 * their bounds, hover and full throttle. Things without a spread (no load, an uncertainty of 0) make no corners.
 * @param base what the corners do not change: wind, and which of the two lags
 */
export function corners(craft: Craft, base: OperatingPoint = NOMINAL_POINT): Corner[] {
	const { uncertainty, load, battery } = craft;
	const either = (bound: number): number[] => (bound > 0 ? [1 - bound, 1 + bound] : [1]);
	const batteries: OperatingPoint["battery"][] =
		battery.full === battery.nearlyEmpty ? ["full"] : ["full", "nearlyEmpty"];
	const loads: OperatingPoint["load"][] = load.massKg > 0 ? ["none", "heaviest"] : ["none"];
	const list: Corner[] = [];
	for (const throttle of ["hover", "full"] as const)
		for (const batteryAt of batteries)
			for (const loadAt of loads)
				for (const inertiaFactor of either(uncertainty.inertia))
					for (const thrustFactor of either(uncertainty.thrust))
						for (const motorLagFactor of either(uncertainty.motorLag)) {
							const point: OperatingPoint = {
								...base,
								battery: batteryAt,
								load: loadAt,
								throttle,
								inertiaFactor,
								thrustFactor,
								motorLagFactor,
							};
							list.push({ name: cornerName(point), point });
						}
	return list;
}

/** Such as 'hover, full battery, no load, inertia -15 %, thrust +10 %, motor lag +20 %'. */
export function cornerName(point: OperatingPoint): string {
	const parts = [
		typeof point.throttle === "number"
			? `throttle ${percent(point.throttle)}`
			: point.throttle === "full"
				? "full throttle"
				: "hover",
		typeof point.battery === "object"
			? `battery at ${percent(point.battery.stateOfCharge)}`
			: { full: "full battery", nominal: "nominal battery", nearlyEmpty: "nearly empty battery" }[
					point.battery
				],
		typeof point.load === "object"
			? `load ${Math.round(1000 * point.load.massKg)} g`
			: { none: "no load", heaviest: "heaviest load" }[point.load],
	];
	const factor = (name: string, value: number): void => {
		if (value !== 1) parts.push(`${name} ${value > 1 ? "+" : "-"}${percent(Math.abs(value - 1))}`);
	};
	factor("inertia", point.inertiaFactor);
	factor("thrust", point.thrustFactor);
	factor("motor lag", point.motorLagFactor);
	if (point.motorLag !== "slower")
		parts.push(
			{ up: "speeding-up lag", down: "slowing-down lag", mean: "mean of both lags" }[point.motorLag],
		);
	return parts.join(", ");
}

const percent = (share: number): string => `${Number((100 * share).toPrecision(3))} %`;
