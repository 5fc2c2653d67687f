import type { Vec3 } from "../math/types.ts";
import * as vec3 from "../math/vec3.ts";
import { formatQuantity } from "../units/format.ts";
import type { CraftInput, SpreadInput, StickInput } from "./input.ts";
import { idleColumn } from "./mixer-columns.ts";
import type { Airframe, MixerSpec, Rotor, Sensors, StickCalibration, Sticks, Uncertainty } from "./model.ts";
import { COMMON, type Notes } from "./notes.ts";

const DEG = Math.PI / 180;

/** The largest distance between two hubs. */
export function hubSpan(rotors: readonly Rotor[]): number {
	let span = 0;
	for (const a of rotors)
		for (const b of rotors) span = Math.max(span, vec3.length(vec3.subtract(a.positionM, b.positionM)));
	return span;
}

export function resolveAirframe(
	input: CraftInput,
	rotors: readonly Rotor[],
	centreOfMassM: Vec3,
	notes: Notes,
): Airframe {
	const given = input.airframe ?? {};
	const span = hubSpan(rotors);
	const side = 0.075 * span * span;
	const feetBelowM = notes.assume(given.feetBelow, "length", {
		path: "craft.airframe.feetBelow",
		value: given.feet ? Math.max(...given.feet.map((foot) => foot[2])) : 0.3 * span,
		because: given.feet ? "the deepest of the feet" : "feet 0.3 of the wheelbase below the reference point",
		source: COMMON,
		measure: "a ruler, from the reference point down to the floor",
	});
	const lowest = rotors.reduce((z, r) => Math.max(z, r.positionM[2]), Number.NEGATIVE_INFINITY);
	if (feetBelowM <= lowest)
		notes.problem(
			"craft.airframe.feetBelow",
			given.feetBelow ?? feetBelowM,
			`more than ${formatQuantity("length", lowest)}, where the lowest rotor is: the feet must be below the rotors`,
		);
	const out = 0.18 * span;
	const feetM: readonly Vec3[] =
		given.feet ??
		notes.assumeWord<readonly Vec3[]>(
			undefined,
			[
				[out, out, feetBelowM],
				[-out, out, feetBelowM],
				[-out, -out, feetBelowM],
				[out, -out, feetBelowM],
			],
			{
				path: "craft.airframe.feet",
				value: `four, ${formatQuantity("length", out)} forward, back and to each side, ${formatQuantity("length", feetBelowM)} down`,
				because: "a square of 0.36 of the wheelbase at the depth of the feet",
				source: COMMON,
				measure: "a ruler along the floor: from below the reference point forward and sideways to each foot",
			},
		);
	return {
		dragAreaM2:
			given.dragArea ??
			notes.assumeWord<Vec3>(undefined, [side, side, 2 * side], {
				path: "craft.airframe.dragArea",
				value: `${formatQuantity("area", side)} forward and sideways, ${formatQuantity("area", 2 * side)} up`,
				because: "0.075 of the wheelbase squared, twice that up and down",
				source: COMMON,
				measure: "let it drift in steady wind or fly at steady tilt and note the speed",
			}),
		centreOfPressureM:
			given.centreOfPressure ??
			notes.assumeWord<Vec3>(undefined, centreOfMassM, {
				path: "craft.airframe.centreOfPressure",
				value: "at the centre of mass",
				because: "wind then pushes but does not turn the craft",
				source: COMMON,
				measure: "hold it by the centre of mass in a steady wind and see which way it turns",
			}),
		groundEffect: given.groundEffect ?? true,
		feetBelowM,
		feetM,
		spanM: given.span ?? span + (input.propeller?.diameter ?? 0),
	};
}

export function resolveSensors(input: CraftInput, loopSec: number, notes: Notes): Sensors {
	const given = input.sensors ?? {};
	const lowPass =
		given.gyroLowPass === "none"
			? null
			: notes.assume(given.gyroLowPass, "frequency", {
					path: "craft.sensors.gyroLowPass",
					value: Math.min(100, 0.2 / loopSec),
					because: "a first-order low-pass in the gyro, 100 Hz or a fifth of the loop rate",
					source: COMMON,
					measure: "the register you write in your sensor set-up, against its sheet; write 'none' for none",
				});
	return {
		gyroLowPassHz: lowPass,
		gyroNoiseRadPerSecPerRootHz: notes.assume(given.gyroNoise, "noiseDensity", {
			path: "craft.sensors.gyroNoise",
			value: 0.006 * DEG,
			because: "small silicon gyros: 0.004 to 0.01 deg/s/sqrt(Hz)",
			source: COMMON,
			measure: "log the gyro at rest: standard deviation over the root of (1.57 x low-pass frequency)",
		}),
		gyroBiasRadPerSec: given.gyroBias ?? [0, 0, 0],
		vibrationRadPerSec: notes.assume(given.vibration, "turnRate", {
			path: "craft.sensors.vibration",
			value: 1 * DEG,
			because: "amplitude that each rotor shakes the gyro with at hover speed",
			source: COMMON,
			measure: "log the gyro, craft held down at hover throttle from a safe distance",
		}),
		gyroResolutionRadPerSec: notes.assume(given.gyroResolution, "turnRate", {
			path: "craft.sensors.gyroResolution",
			value: 0.061 * DEG,
			because: "16 bits over +-2000 deg/s",
			source: COMMON,
			measure: "the range you set in your code, over 32768",
		}),
		levelOffsetRad: given.levelOffset ?? [0, 0],
		attitudeNoiseRad: notes.assume(given.attitudeNoise, "angle", {
			path: "craft.sensors.attitudeNoise",
			value: 0.05 * DEG,
			because: "standard deviation of fused angles at rest",
			source: COMMON,
			measure: "log the angles at rest",
		}),
		estimatorTimeConstantSec:
			given.estimatorTimeConstant === undefined || given.estimatorTimeConstant === "none"
				? null
				: given.estimatorTimeConstant,
	};
}

export function resolveMixer(input: CraftInput, rotors: readonly Rotor[], notes: Notes): MixerSpec {
	const given = input.mixer ?? {};
	const { startCommand = 0.05, bench } = input.motors ?? {};
	const starts = bench?.find((p) => p.thrust > 0)?.command ?? startCommand;
	if (given.table !== undefined && rotors.length > 0 && given.table.length !== rotors.length)
		notes.problem(
			"craft.mixer.table",
			given.table,
			`${rotors.length} rows (roll, pitch, yaw), in the rotors' order`,
		);
	const idle = given.table && idleColumn(given.table);
	if (idle)
		notes.problem(
			"craft.mixer.table",
			given.table,
			"columns of which none is 0 or the same in every row, nor made of the others",
			`the column of ${idle} has no authority of its own`,
		);
	return {
		table: notes.assumeWord<readonly Vec3[] | null>(given.table, null, {
			path: "craft.mixer.table",
			value: "computed from the rotors' places, largest entry of each column 1",
			because: "no table was given",
			source: "pseudo-inverse of the thrust-and-torques map",
			measure: "copy the table from your code, one row per rotor",
		}),
		batteryCompensation: given.batteryCompensation ?? false,
		thrustLinearisation: given.thrustLinearisation ?? 0,
		lowestSpin: notes.assume(given.lowestSpin, "fraction", {
			path: "craft.mixer.lowestSpin",
			value: Math.max(0.08, 1.2 * starts),
			because: "a little above where the motors start",
			source: COMMON,
			measure: "the least command your code sends while live",
		}),
		throttleRiseCap: given.throttleRiseCap ?? 0.1,
	};
}

function stick(given: StickInput | undefined, path: string, notes: Notes): StickCalibration {
	const calibration: StickCalibration = {
		lowUs: Math.round((given?.low ?? 1000e-6) * 1e6),
		centreUs: Math.round((given?.centre ?? 1500e-6) * 1e6),
		highUs: Math.round((given?.high ?? 2000e-6) * 1e6),
		reverse: given?.reverse ?? false,
		deadBand: given?.deadBand ?? 0,
		centreSoftness: given?.centreSoftness ?? 0,
	};
	if (!(calibration.lowUs < calibration.centreUs && calibration.centreUs < calibration.highUs))
		notes.problem(
			`${path}.centre`,
			given?.centre,
			`between low ${calibration.lowUs} us and high ${calibration.highUs} us`,
		);
	return calibration;
}

export function resolveSticks(input: CraftInput, notes: Notes): Sticks {
	const given = input.sticks ?? {};
	if (given.roll === undefined && given.throttle === undefined)
		notes.assumeWord(undefined, 0, {
			path: "craft.sticks",
			value: "1000, 1500, 2000 us, no dead band, straight",
			because: "the usual range of a radio channel",
			source: COMMON,
			measure: "print the raw readings at both ends and at the centre of each stick",
		});
	return {
		roll: stick(given.roll, "craft.sticks.roll", notes),
		pitch: stick(given.pitch, "craft.sticks.pitch", notes),
		yaw: stick(given.yaw, "craft.sticks.yaw", notes),
		throttle: stick(given.throttle, "craft.sticks.throttle", notes),
		fullTiltRad: notes.assume(given.fullTilt, "angle", {
			path: "craft.sticks.fullTilt",
			value: 30 * DEG,
			because: "a calm first flight",
			source: COMMON,
			measure: "your code's set-point at full stick",
		}),
		fullTurnRateRadPerSec: notes.assume(given.fullTurnRate, "turnRate", {
			path: "craft.sticks.fullTurnRate",
			value: 120 * DEG,
			because: "a calm first flight",
			source: COMMON,
			measure: "your code's set-point at full stick",
		}),
		fullTiltRateRadPerSec: given.fullTiltRate ?? 200 * DEG,
	};
}

/** As a bound: two standard deviations, outside which 5 of 100 lie where errors are normal. */
function bound(given: SpreadInput | undefined): number | undefined {
	if (given === undefined || typeof given === "number") return given;
	return "plusMinus" in given ? given.plusMinus : 2 * given.standardDeviation;
}

/** How well the numbers that the corners turn on are known. */
export function resolveUncertainty(input: CraftInput, notes: Notes): Uncertainty {
	const given = input.uncertainty ?? {};
	const byRule = input.inertia === undefined && input.parts === undefined;
	const entry = (path: string, value: number, because: string) => ({
		path: `craft.uncertainty.${path}`,
		value,
		because: `plus or minus; ${because}`,
		source: COMMON,
		measure: "measure twice, differently, and take the difference",
	});
	const { motors = {} } = input;
	const thrustKnown =
		motors.bench !== undefined ||
		motors.maxThrust !== undefined ||
		(motors.thrustCoefficient !== undefined && motors.maxSpeed !== undefined);
	const whyInertia = byRule
		? "inertia comes from a rule"
		: input.inertia === undefined
			? "parts lists forget wires"
			: "what swinging it twice differs by";
	const lagKnown = motors.lag !== undefined || motors.lagUp !== undefined;
	return {
		inertia: notes.assume(bound(given.inertia), "fraction", entry("inertia", byRule ? 0.2 : 0.1, whyInertia)),
		thrust: notes.assume(
			bound(given.thrust),
			"fraction",
			entry(
				"thrust",
				thrustKnown ? 0.1 : 0.2,
				thrustKnown ? "a thrust stand in a room" : "thrust comes from the propeller's size",
			),
		),
		motorLag: notes.assume(
			bound(given.motorLag),
			"fraction",
			entry("motorLag", lagKnown ? 0.2 : 0.4, lagKnown ? "lag differs with speed" : "the lag is assumed"),
		),
	};
}
