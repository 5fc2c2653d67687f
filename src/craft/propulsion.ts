import { formatQuantity } from "../units/format.ts";
import { STANDARD_DENSITY } from "./air.ts";
import { benchTorque } from "./bench-power.ts";
import { benchCurve } from "./bench-table.ts";
import type { CraftInput, MotorsInput, PropellerInput } from "./input.ts";
import type { Propulsion, SpeedCurve } from "./model.ts";
import { COMMON, type Notes } from "./notes.ts";
import {
	FIGURE_OF_MERIT,
	inflowCoefficient,
	inPlaneDragCoefficient,
	type RotorShape,
	torqueFromMerit,
} from "./rotor-aero.ts";

const TURN = 2 * Math.PI;
const INCH = 0.0254;

/** One motor with its propeller, from coefficients, the greatest thrust, or a bench table. */
export function resolvePropulsion(input: CraftInput, nominalV: number, notes: Notes): Propulsion | null {
	const { propeller, motors = {} } = input;
	if (propeller === undefined) {
		notes.problem("craft.propeller.diameter", undefined, 'the propeller\'s diameter such as "10 in"');
		return null;
	}
	const densityKgM3 = motors.measuredDensity ?? STANDARD_DENSITY;
	const thrust = thrustAndCurve(propeller, motors, densityKgM3, nominalV, notes);
	if (thrust === null) return null;
	const shape: RotorShape = {
		radiusM: propeller.diameter / 2,
		densityKgM3,
		thrustCoefficient: thrust.coefficient,
		...blades(propeller, notes),
	};
	const [tauUpSec, tauDownSec] = lags(propeller, motors, notes);
	return {
		radiusM: shape.radiusM,
		thrustCoefficient: thrust.coefficient,
		torqueCoefficient: torque(propeller, motors, shape, notes),
		inflowCoefficient: notes.assume(motors.inflowCoefficient, "inflowCoefficient", {
			path: "craft.motors.inflowCoefficient",
			value: inflowCoefficient(shape),
			because: "a rotor that climbs loses thrust; hover theory of a rigid rotor with this thrust",
			source:
				"Leishman, Principles of Helicopter Aerodynamics, blade element and momentum theory (from memory)",
			measure: "hard to measure; it damps height, roll and pitch a little",
		}),
		inPlaneDragCoefficient: notes.assume(motors.inPlaneDragCoefficient, "inflowCoefficient", {
			path: "craft.motors.inPlaneDragCoefficient",
			value: inPlaneDragCoefficient(shape),
			because: "a rotor moved sideways drags; blades taken to flap freely",
			source: "Leishman, Principles of Helicopter Aerodynamics, blade element theory (from memory)",
			measure: "fly steady in calm air and note tilt against speed",
		}),
		rotorInertiaKgM2: rotorInertia(propeller, motors, notes),
		referenceDensityKgM3: densityKgM3,
		tauUpSec,
		tauDownSec,
		curve: thrust.curve,
	};
}

function blades(propeller: PropellerInput, notes: Notes): { blades: number; chordM: number } {
	return {
		blades: notes.assumeWord(propeller.blades, 2, {
			path: "craft.propeller.blades",
			value: "2",
			because: "most propellers have two; it enters the inflow and drag of the rotor only",
			source: COMMON,
			measure: "count them",
		}),
		chordM: notes.assume(propeller.chord, "length", {
			path: "craft.propeller.chord",
			value: 0.08 * propeller.diameter,
			because: "mean blade width of 0.08 diameters",
			source: COMMON,
			measure: "a ruler, at three quarters of the radius",
		}),
	};
}

interface Thrust {
	readonly coefficient: number;
	readonly curve: SpeedCurve;
}

function thrustAndCurve(
	propeller: PropellerInput,
	motors: MotorsInput,
	density: number,
	nominalV: number,
	notes: Notes,
): Thrust | null {
	const referenceVoltageV = notes.assume(motors.measuredVoltage, "voltage", {
		path: "craft.motors.measuredVoltage",
		value: nominalV,
		because: "thrust and speed at full command are taken to hold at the nominal battery",
		source: COMMON,
		measure: "a meter on the battery while the motor runs on the thrust stand",
	});
	const coefficient = (): number => thrustCoefficient(propeller, motors, density, notes);
	if (motors.bench !== undefined) {
		for (const other of ["maxThrust", "maxSpeed", "startCommand", "startSpeed"] as const)
			if (motors[other] !== undefined)
				notes.problem(`craft.motors.${other}`, motors[other], "nothing here, since the bench table says it");
		return benchCurve(motors, referenceVoltageV, coefficient, notes);
	}
	const full = fullSpeed(motors, coefficient, notes);
	if (full === null) return null;
	const startCommand = notes.assume(motors.startCommand, "fraction", {
		path: "craft.motors.startCommand",
		value: 0.05,
		because: "speed controllers turn nothing below a few per cent",
		source: COMMON,
		measure: "propellers off: raise the command until the motor just turns steadily",
	});
	const startSpeed = notes.assume(motors.startSpeed, "rotorSpeed", {
		path: "craft.motors.startSpeed",
		value: 0.12 * full.speed,
		because: "12 % of full speed where the motor starts, straight from there to full command",
		source: COMMON,
		measure: "a bench table of command, thrust and speed replaces it",
	});
	if (startSpeed >= full.speed)
		notes.problem(
			"craft.motors.startSpeed",
			startSpeed,
			`below the speed at full command, ${formatQuantity("rotorSpeed", full.speed)}`,
		);
	if (startCommand >= 1)
		notes.problem("craft.motors.startCommand", startCommand, "below 1, the full command");
	return {
		coefficient: full.coefficient,
		curve: {
			commands: [startCommand, 1],
			speedsRadPerSec: [startSpeed, full.speed],
			referenceVoltageV,
		},
	};
}

/** T = kT W^2 at full command: two of the three give the third. */
function fullSpeed(
	motors: MotorsInput,
	coefficient: () => number,
	notes: Notes,
): { coefficient: number; speed: number } | null {
	const { maxThrust, maxSpeed, thrustCoefficient: kT } = motors;
	if (maxThrust !== undefined && maxSpeed !== undefined) {
		const fromBoth = maxThrust / maxSpeed ** 2;
		if (kT !== undefined && Math.abs(kT / fromBoth - 1) > 0.02)
			notes.problem(
				"craft.motors.thrustCoefficient",
				kT,
				`maxThrust/maxSpeed^2 = ${fromBoth.toPrecision(4)} N/(rad/s)^2 to within 2 %`,
				"leave one of the three out",
			);
		return { coefficient: kT ?? fromBoth, speed: maxSpeed };
	}
	if (maxThrust !== undefined) {
		const k = coefficient();
		return { coefficient: k, speed: Math.sqrt(maxThrust / k) };
	}
	if (maxSpeed !== undefined) return { coefficient: coefficient(), speed: maxSpeed };
	notes.problem(
		"craft.motors.maxThrust",
		undefined,
		'one motor\'s thrust at full command such as "850 g", or maxSpeed, or a bench table',
		kT === undefined ? "" : "a thrust coefficient alone does not say how fast the motor turns",
	);
	return null;
}

/** T = CT rho n^2 D^4 with n in turns per second: kT = CT rho D^4/(2 pi)^2. */
function thrustCoefficient(
	propeller: PropellerInput,
	motors: MotorsInput,
	density: number,
	notes: Notes,
): number {
	const number = propeller.thrustNumber ?? 0.1;
	const value = (number * density * propeller.diameter ** 4) / TURN ** 2;
	if (motors.thrustCoefficient === undefined && propeller.thrustNumber !== undefined) return value;
	return notes.assume(motors.thrustCoefficient, "thrustCoefficient", {
		path: "craft.motors.thrustCoefficient",
		value,
		because: `static thrust coefficient CT = 0.1 in T = CT rho n^2 D^4 for the ${formatQuantity("length", propeller.diameter)} propeller (seen: 0.08 to 0.13)`,
		source: COMMON,
		measure: "thrust stand and optical tachometer: thrust over speed squared",
	});
}

/** From the bench table; else P = CP rho n^3 D^5: kQ = CP rho D^5/(2 pi)^3; else by the figure of merit. */
function torque(propeller: PropellerInput, motors: MotorsInput, shape: RotorShape, notes: Notes): number {
	const measured = benchTorque(motors.bench ?? [], shape.thrustCoefficient);
	if (measured !== null) {
		const given = motors.torqueCoefficient;
		if (given !== undefined)
			notes.problem("craft.motors.torqueCoefficient", given, "nothing here, since the bench table says it");
		return measured;
	}
	if (motors.torqueCoefficient === undefined && propeller.powerNumber !== undefined)
		return (propeller.powerNumber * shape.densityKgM3 * propeller.diameter ** 5) / TURN ** 3;
	return notes.assume(motors.torqueCoefficient, "torqueCoefficient", {
		path: "craft.motors.torqueCoefficient",
		value: torqueFromMerit(shape),
		because: `hover power taken as the ideal over a figure of merit of ${FIGURE_OF_MERIT} (seen: 0.5 to 0.7)`,
		source: `momentum theory (Leishman, Principles of Helicopter Aerodynamics, from memory); the figure of merit: ${COMMON}`,
		measure: "a lever and a scale beside the motor: drag torque over speed squared",
	});
}

/**
 * Propeller: two rods that taper to half their width, m D^2 x 0.0694. Bell: a thin ring, m d^2/4. Masses by size where
 * they are not given.
 */
function rotorInertia(propeller: PropellerInput, motors: MotorsInput, notes: Notes): number {
	if (motors.rotorInertia !== undefined) return motors.rotorInertia;
	const d = propeller.diameter;
	const mass = notes.assume(propeller.mass, "mass", {
		path: "craft.propeller.mass",
		value: 0.012 * (d / (11 * INCH)) ** 2,
		because: "12 g for 11 in, growing with the square of the diameter",
		source: COMMON,
		measure: "a kitchen or pocket scale, ten propellers at once",
	});
	const bellMass = notes.assume(motors.bellMass, "mass", {
		path: "craft.motors.bellMass",
		value: 0.02 * (d / (11 * INCH)) ** 1.5,
		because: "the turning half of the motor: 20 g beside an 11 in propeller",
		source: COMMON,
		measure: "take one bell off and weigh it",
	});
	const bellDiameter = notes.assume(motors.bellDiameter, "length", {
		path: "craft.motors.bellDiameter",
		value: 0.024 * Math.sqrt(d / (8 * INCH)),
		because: "24 mm beside an 8 in propeller",
		source: COMMON,
		measure: "a ruler",
	});
	return notes.assume(undefined, "inertia", {
		path: "craft.motors.rotorInertia",
		value: 0.25 * (0.2778 * mass * d ** 2 + bellMass * bellDiameter ** 2),
		because: "propeller as rods that taper to half their width, bell as a thin ring; it leads yaw",
		source: "closed forms of mechanics; the shapes: common practice, no source",
		measure: "swing the propeller from two strings and time it (bifilar)",
	});
}

function lags(propeller: PropellerInput, motors: MotorsInput, notes: Notes): readonly [number, number] {
	const given = motors.lagUp ?? motors.lag;
	const up = notes.assume(given, "time", {
		path: "craft.motors.lagUp",
		value: 0.005 * (propeller.diameter / INCH),
		because: "5 ms per inch of propeller; this lag limits the gains more than any other number",
		source: COMMON,
		measure: "film or log a step of command from hover speed up: time to 63 % of the change",
	});
	const down = notes.assume(motors.lagDown, "time", {
		path: "craft.motors.lagDown",
		value: 1.35 * up,
		because: "1.35 of the lag up: without active braking a rotor slows more slowly than it speeds up",
		source: COMMON,
		measure: "the same step from hover speed down",
	});
	return [up, down];
}
