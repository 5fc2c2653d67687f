import * as vec3 from "../math/vec3.ts";
import type { Craft } from "./model.ts";
import type { OddValue } from "./notes.ts";
import { hubSpan } from "./small-parts.ts";

export interface OddRule {
	readonly path: string;
	/** The number and the sentence where it is odd; null where it is not. */
	readonly judge: (craft: Craft) => string | null;
}

const round = (x: number): string => String(Number(x.toPrecision(3)));

/** Odd where `value` is outside low..high; `say` gets the value rounded. */
function range(
	path: string,
	low: number,
	high: number,
	value: (craft: Craft) => number | null,
	say: (value: string, low: string, high: string) => string,
): OddRule {
	return {
		path,
		judge: (craft) => {
			const v = value(craft);
			return v === null || (v >= low && v <= high) ? null : say(round(v), round(low), round(high));
		},
	};
}

const fullThrust = ({ propulsion: p }: Craft): number =>
	p.thrustCoefficient * p.curve.speedsRadPerSec[p.curve.speedsRadPerSec.length - 1]! ** 2;
const thrustToWeight = (c: Craft): number => (c.rotors.length * fullThrust(c)) / (c.bare.massKg * 9.80665);
const ct = ({ propulsion: p }: Craft): number =>
	(p.thrustCoefficient * 4 * Math.PI ** 2) / (p.referenceDensityKgM3 * (2 * p.radiusM) ** 4);
const merit = ({ propulsion: p }: Craft): number =>
	p.thrustCoefficient ** 1.5 /
	(p.torqueCoefficient * Math.sqrt(2 * p.referenceDensityKgM3 * Math.PI * p.radiusM ** 2));
const meanRadius = (c: Craft): number =>
	c.rotors.reduce((sum, r) => sum + Math.hypot(r.positionM[0], r.positionM[1]), 0) / c.rotors.length;
const gyration = (c: Craft, i: 0 | 4 | 8): number =>
	c.bare.inertiaKgM2[i] / (c.bare.massKg * meanRadius(c) ** 2);

/** Possible but odd values: one table, each with its number. */
export const ODD_RULES: readonly OddRule[] = [
	range(
		"craft.mass",
		0.05,
		25,
		(c) => c.bare.massKg,
		(v, low, high) =>
			`${v} kg is outside the ${low} to ${high} kg of usual craft; grams written as kilograms?`,
	),
	range(
		"craft.wheelbase",
		0.06,
		2.5,
		(c) => hubSpan(c.rotors),
		(v) => `the widest pair of rotors is ${v} m apart; millimetres written as metres?`,
	),
	range(
		"craft.motors.maxThrust",
		1.3,
		15,
		thrustToWeight,
		(v) =>
			`full thrust is ${v} times the weight; below 1.3 there is nothing left to steer with, above 15 is seen only on racers; is it the thrust of ONE motor?`,
	),
	range(
		"craft.motors.thrustCoefficient",
		0.05,
		0.2,
		ct,
		(v) =>
			`thrust coefficient CT is ${v} for this diameter; usual propellers have 0.05 to 0.2, so thrust, speed or diameter is off`,
	),
	range(
		"craft.motors.torqueCoefficient",
		0.3,
		0.85,
		merit,
		(v) =>
			`figure of merit is ${v}; small rotors reach 0.3 to 0.85 (1 is the ideal), so kT, kQ or diameter is off`,
	),
	range(
		"craft.motors.lagUp",
		0.008,
		0.3,
		(c) => c.propulsion.tauUpSec,
		(v) => `the motor lag of ${v} s is outside the usual 0.008 to 0.3 s; milliseconds written as seconds?`,
	),
	range(
		"craft.motors.lagDown",
		0.7,
		3,
		(c) => c.propulsion.tauDownSec / c.propulsion.tauUpSec,
		(v) => `slowing down takes ${v} times as long as speeding up; usual is 0.7 to 3`,
	),
	range(
		"craft.motors.rotorInertia",
		0.01,
		0.2,
		(c) =>
			c.propulsion.rotorInertiaKgM2 /
			(0.012 * (c.propulsion.radiusM / 0.1397) ** 2 * (2 * c.propulsion.radiusM) ** 2),
		(v) => `the rotor's inertia is ${v} m D^2 of a usual propeller of its size; 0.01 to 0.2 is usual`,
	),
	range(
		"craft.inertia",
		0.08,
		0.6,
		(c) => gyration(c, 0),
		(v) => `roll inertia is ${v} of mass times hub radius squared; published craft have about 0.2`,
	),
	range(
		"craft.inertia",
		0.08,
		0.6,
		(c) => gyration(c, 4),
		(v) => `pitch inertia is ${v} of mass times hub radius squared; published craft have about 0.2`,
	),
	range(
		"craft.inertia",
		0.15,
		1,
		(c) => gyration(c, 8),
		(v) => `yaw inertia is ${v} of mass times hub radius squared; published craft have about 0.35`,
	),
	range(
		"craft.centreOfMass",
		0,
		0.15,
		(c) => Math.hypot(c.bare.centreOfMassM[0], c.bare.centreOfMassM[1]) / meanRadius(c),
		(v) =>
			`the centre of mass is ${v} of the hub radius off the reference point; some motors then work much harder`,
	),
	range(
		"craft.load.mass",
		0,
		1,
		(c) => c.load.massKg / c.bare.massKg,
		(v) => `the load is ${v} times the bare craft's mass`,
	),
	range(
		"craft.load.position",
		0,
		1,
		(c) => vec3.length(c.load.positionM) / meanRadius(c),
		(v) => `the load sits ${v} hub radii from the reference point`,
	),
	range(
		"craft.battery.openCircuit",
		2.5,
		4.4,
		(c) => cellLike(c),
		(v) => `the full battery has ${v} V per 4.2 V cell nearest in number; is the number of cells right?`,
	),
	range(
		"craft.battery.resistance",
		0.001,
		0.5,
		(c) => c.battery.resistanceOhm,
		(v) =>
			`the battery's resistance of ${v} ohm is outside the usual 0.001 to 0.5 ohm; milliohms written as ohms?`,
	),
	range(
		"craft.battery.capacity",
		0.1,
		60,
		(c) => c.battery.capacityAmpereHours,
		(v) => `the battery holds ${v} Ah; mAh written as Ah?`,
	),
	range(
		"craft.battery.efficiency",
		0.4,
		0.92,
		(c) => c.battery.efficiency,
		(v) => `an efficiency of ${v} from battery to shaft; 0.4 to 0.92 is usual`,
	),
	range(
		"craft.timing.loop",
		200,
		20000,
		(c) => c.timing.control.periodUs,
		(v) => `the control loop takes ${v} us per tick; 200 to 20000 us is usual`,
	),
	range(
		"craft.timing.loop",
		0,
		0.25,
		(c) => c.timing.control.jitterUs / c.timing.control.periodUs,
		(v) => `the loop's jitter is ${v} of its period`,
	),
	range(
		"craft.timing.compute",
		0,
		0.8,
		(c) => c.timing.computeUs / c.timing.control.periodUs,
		(v) => `computing takes ${v} of the tick; above 0.8 there is no time for anything else`,
	),
	range(
		"craft.timing.gyro.period",
		0,
		1,
		(c) => c.timing.gyro.periodUs / c.timing.control.periodUs,
		(v) => `the gyro's period is ${v} loop periods: ticks between its samples see nothing new`,
	),
	range(
		"craft.timing.gyro.bus",
		0,
		1,
		(c) => c.timing.gyroBusUs / c.timing.control.periodUs,
		(v) => `reading the gyro takes ${v} loop periods`,
	),
	range(
		"craft.timing.attitude.latency",
		0,
		0.05,
		(c) => (c.timing.attitude.kind === "fused" ? c.timing.attitude.latencyUs * 1e-6 : null),
		(v) => `angles arrive ${v} s late; 0.005 to 0.03 s is usual of sensors that fuse on board`,
	),
	range(
		"craft.timing.frame.period",
		0,
		5,
		(c) => c.timing.escFrame.periodUs / c.timing.control.periodUs,
		(v) => `speed controllers hear one in ${v} ticks`,
	),
	range(
		"craft.timing.frame.period",
		0,
		1,
		(c) => (c.timing.pulse.kind === "width" ? c.timing.pulse.longestUs / c.timing.escFrame.periodUs : null),
		(v) => `the longest pulse is ${v} of the frame: it does not fit`,
	),
	range(
		"craft.sensors.gyroLowPass",
		10,
		1000,
		(c) => c.sensors.gyroLowPassHz,
		(v) => `a gyro low-pass at ${v} Hz; 10 to 1000 Hz is usual`,
	),
	range(
		"craft.sensors.vibration",
		0,
		0.5,
		(c) => c.sensors.vibrationRadPerSec,
		(v) => `each rotor shakes the gyro by ${v} rad/s; balance the propellers before anything else`,
	),
	range(
		"craft.sensors.levelOffset",
		0,
		0.1,
		(c) => Math.hypot(...c.sensors.levelOffsetRad),
		(v) => `level is off by ${v} rad: it will drift off sideways by itself`,
	),
	range(
		"craft.mixer.lowestSpin",
		0,
		0.25,
		(c) => c.mixer.lowestSpin,
		(v) => `lowest spin is ${v} of full command; above 0.25 a light craft may not come down`,
	),
	{ path: "craft.mixer.lowestSpin", judge: mayStop },
	range(
		"craft.sticks.fullTilt",
		0.08,
		1.05,
		(c) => c.sticks.fullTiltRad,
		(v) => `full stick asks for ${v} rad of tilt; 0.08 to 1.05 rad (5 to 60 deg) is usual`,
	),
	range(
		"craft.air.density",
		0.7,
		1.5,
		(c) => c.air.densityKgM3,
		(v) => `air of ${v} kg/m^3; 0.7 (5500 m) to 1.5 (-40 degC) is what people fly in`,
	),
	range(
		"craft.airframe.dragArea",
		0,
		1,
		(c) => Math.max(...c.airframe.dragAreaM2) / hubSpan(c.rotors) ** 2,
		(v) => `the drag area is ${v} of the wheelbase squared`,
	),
	range(
		"craft.uncertainty.inertia",
		0,
		0.5,
		(c) => c.uncertainty.inertia,
		(v) => `inertia known to plus or minus ${v} only: gains must then be very cautious`,
	),
	{ path: "craft.frontRightSpin", judge: spinBalance },
	{ path: "craft.rotors", judge: overlap },
];

function mayStop({ mixer, propulsion }: Craft): string | null {
	const start = propulsion.curve.commands[0]!;
	if (mixer.lowestSpin >= start) return null;
	return `lowest spin, ${round(mixer.lowestSpin)} of full command, lies below ${round(start)}, where the motors start: motors may stop in flight`;
}

function cellLike({ battery }: Craft): number {
	const full = battery.openCircuitV[battery.openCircuitV.length - 1]!;
	return full / Math.max(1, Math.round(full / 4.2));
}

function spinBalance({ rotors }: Craft): string | null {
	const sum = rotors.reduce((s, r) => s + r.spin, 0);
	if (sum === 0) return null;
	return `${rotors.length} rotors spin ${Math.abs(sum)} more one way than the other: the craft turns by itself unless yaw holds it`;
}

function overlap({ rotors, propulsion }: Craft): string | null {
	for (const [i, a] of rotors.entries())
		for (const b of rotors.slice(i + 1)) {
			const apart = Math.hypot(a.positionM[0] - b.positionM[0], a.positionM[1] - b.positionM[1]);
			const dz = Math.abs(a.positionM[2] - b.positionM[2]);
			if (apart < 2 * propulsion.radiusM && dz < 0.1 * propulsion.radiusM)
				return `${a.place} and ${b.place} are ${round(apart)} m apart but the propellers need ${round(2 * propulsion.radiusM)} m: they would hit each other`;
		}
	return null;
}

/** Every sentence that holds for this craft, in the table's order. */
export function oddValues(craft: Craft): OddValue[] {
	return ODD_RULES.flatMap(({ path, judge }) => {
		const sentence = judge(craft);
		return sentence === null ? [] : [{ path, sentence }];
	});
}
