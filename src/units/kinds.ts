/**
 * The kinds of quantity that a scenario holds. `unit` is the unit of a bare number and of the parsed value;
 * `like` are units of the dimensions it may be written in; `angleFree` ignores radians, as in N/(rad/s)^2.
 */
export interface Kind {
	readonly noun: string;
	readonly unit: string;
	readonly like: readonly string[];
	readonly example: string;
	readonly angleFree?: true;
}

const kind = (noun: string, unit: string, like: string[], example: string, angleFree?: true): Kind => ({
	noun,
	unit,
	like,
	example,
	...(angleFree && { angleFree }),
});

export const KINDS = {
	mass: kind("a mass", "kg", ["kg"], "1.9 kg"),
	length: kind("a length", "m", ["m"], "520 mm"),
	time: kind("a time", "s", ["s"], "55 ms"),
	period: kind("a period or a rate", "s", ["s", "Hz"], "500 Hz"),
	frequency: kind("a frequency", "Hz", ["Hz"], "98 Hz"),
	force: kind("a force", "N", ["N", "kg"], "620 g"),
	torque: kind("a torque", "N m", ["N m"], "0.2 N m"),
	angle: kind("an angle", "rad", ["rad"], "10 deg"),
	turnRate: kind("a turn rate", "rad/s", ["rad/s"], "430 deg/s"),
	rotorSpeed: kind("a rotor speed", "rad/s", ["rad/s"], "7000 rpm"),
	speed: kind("a speed", "m/s", ["m/s"], "6 m/s"),
	voltage: kind("a voltage", "V", ["V"], "14.8 V"),
	current: kind("a current", "A", ["A"], "18 A"),
	charge: kind("a battery capacity", "A h", ["A s"], "5.2 Ah"),
	resistance: kind("a resistance", "ohm", ["ohm"], "20 mohm"),
	power: kind("a power", "W", ["W"], "6 W"),
	density: kind("a density", "kg/m^3", ["kg/m^3"], "1.225 kg/m^3"),
	temperature: kind("a temperature", "K", ["K"], "20 degC"),
	area: kind("an area", "m^2", ["m^2"], "200 cm^2"),
	inertia: kind("a moment of inertia", "kg m^2", ["kg m^2"], "0.022 kg m^2"),
	thrustCoefficient: kind("a thrust coefficient", "N/(rad/s)^2", ["N s^2"], "1.89e-5 N/(rad/s)^2", true),
	torqueCoefficient: kind("a torque coefficient", "N m/(rad/s)^2", ["N m s^2"], "3.4e-7 N m/(rad/s)^2", true),
	inflowCoefficient: kind(
		"a coefficient in N per rad/s and m/s",
		"N/((rad/s)(m/s))",
		["N s^2 / m"],
		"5e-4 kg",
		true,
	),
	noiseDensity: kind("a noise density", "rad/s/sqrt(Hz)", ["rad/s/Hz^0.5"], "0.005 deg/s/sqrt(Hz)"),
	springRate: kind("a spring's stiffness", "N/m", ["N/m"], "2000 N/m"),
	springDamping: kind("a spring's damping", "N s/m", ["N s/m"], "10 N s/m"),
	turnFriction: kind("a friction torque over turn rate", "N m s/rad", ["N m s"], "0.002 N m s/rad", true),
	turnStiffness: kind("a torque over an angle", "N m/rad", ["N m"], "3 N m/rad", true),
	fraction: kind("a share", "1", [], "20 %"),
} as const satisfies Record<string, Kind>;

export type KindName = keyof typeof KINDS;
