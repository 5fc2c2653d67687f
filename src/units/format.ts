import type { KindName } from "./kinds.ts";

/** The units people read a kind in: scale from SI and name, the first whose value is not below 1 (else the last). */
const READ_IN: Readonly<Record<KindName, readonly (readonly [number, string])[]>> = {
	mass: [
		[1, "kg"],
		[1e3, "g"],
	],
	length: [
		[1, "m"],
		[1e3, "mm"],
	],
	time: [
		[1, "s"],
		[1e3, "ms"],
		[1e6, "us"],
	],
	period: [
		[1, "s"],
		[1e3, "ms"],
		[1e6, "us"],
	],
	frequency: [[1, "Hz"]],
	force: [[1, "N"]],
	torque: [[1, "N m"]],
	angle: [[180 / Math.PI, "deg"]],
	turnRate: [[180 / Math.PI, "deg/s"]],
	rotorSpeed: [[30 / Math.PI, "rpm"]],
	speed: [[1, "m/s"]],
	voltage: [[1, "V"]],
	current: [[1, "A"]],
	charge: [
		[1, "Ah"],
		[1e3, "mAh"],
	],
	resistance: [
		[1, "ohm"],
		[1e3, "mohm"],
	],
	power: [[1, "W"]],
	density: [[1, "kg/m^3"]],
	temperature: [[1, "K"]],
	area: [
		[1, "m^2"],
		[1e4, "cm^2"],
	],
	inertia: [[1, "kg m^2"]],
	thrustCoefficient: [[1, "N/(rad/s)^2"]],
	torqueCoefficient: [[1, "N m/(rad/s)^2"]],
	inflowCoefficient: [[1, "N/((rad/s)(m/s))"]],
	noiseDensity: [[180 / Math.PI, "deg/s/sqrt(Hz)"]],
	springRate: [[1, "N/m"]],
	springDamping: [[1, "N s/m"]],
	turnFriction: [[1, "N m s/rad"]],
	turnStiffness: [[1, "N m/rad"]],
	fraction: [[100, "%"]],
};

/** A quantity as people read it, to `digits` significant digits (17: nothing is lost); `parseQuantity` reads it back. */
export function formatQuantity(name: KindName, value: number, digits = 4): string {
	if (!Number.isFinite(value))
		throw new RangeError(`formatQuantity: value ${value}, expected a finite number`);
	const units = READ_IN[name];
	const [scale, unit] =
		units.find(([factor]) => Math.abs(value * factor) >= 1) ?? units[value === 0 ? 0 : units.length - 1]!;
	return `${Number((value * scale).toPrecision(digits))} ${unit}`;
}
