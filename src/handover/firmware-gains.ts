import { AXES, type AxisGains, type AxisName, type GainSet, type Structure } from "../control/spec.ts";
import type { FirmwareUnits } from "./firmware-units.ts";
import { parallelToStandard, type StandardForm, standardToParallel } from "./pid-forms.ts";

/** One axis as the builder types it, in the units of `unitLabels`. */
export interface FirmwareAxisGains {
	readonly core: FirmwareCore;
	readonly kAngle: number;
	readonly kAngleI: number;
	readonly kff: number;
	readonly setPointWeight: number;
	readonly integralLimit: number;
	readonly outputLimit: number;
	readonly rateLimit: number;
	readonly angleIntegralLimit: number;
	/** See `FirmwareUnits.derivativeFilter`. */
	readonly derivativeFilter: number;
}

export type FirmwareCore =
	| { readonly form: "parallel"; readonly kp: number; readonly ki: number; readonly kd: number }
	| ({ readonly form: "standard" } & StandardForm);

export type FirmwareGains = { readonly [axis in AxisName]: FirmwareAxisGains };

/** What one unit of u of an axis is in the code's output. @throws RangeError for a number that is not above 0. */
export function outputPerU(units: FirmwareUnits, axis: AxisName): number {
	const largest = units.mixLargestEntry[AXES.indexOf(axis)]!;
	for (const [name, value] of [
		["outputFullScale", units.outputFullScale],
		[`mixLargestEntry of ${axis}`, largest],
	] as const)
		if (!(value > 0 && Number.isFinite(value)))
			throw new RangeError(`firmware ${name}: ${value}, expected above 0`);
	return units.outputFullScale / largest;
}

/** Output units per fraction and angle units: what stands between the two kinds of gain. */
interface Factors {
	/** Output per unit of u. */
	readonly output: number;
	/** Firmware angle units in one radian. */
	readonly angle: number;
	readonly gain: number;
	readonly integral: number;
	readonly derivative: number;
	readonly periodSec: number;
}

function factors(units: FirmwareUnits, structure: Structure, axis: AxisName): Factors {
	if (!(units.loopHz > 0 && Number.isFinite(units.loopHz)))
		throw new RangeError(`firmware loopHz: ${units.loopHz}, expected above 0`);
	const periodSec = 1 / units.loopHz;
	const output = outputPerU(units, axis);
	const angle = units.angle === "deg" ? 180 / Math.PI : 1;
	const fromGyro = structure === "anglePid" && axis !== "yaw";
	return {
		output,
		angle,
		gain: output / angle,
		integral: units.integral === "perTick" ? periodSec : 1,
		derivative: units.derivative === "perTick" && !fromGyro ? 1 / periodSec : 1,
		periodSec,
	};
}

/**
 * Internal to the builder's units. kp, kff: x output / angle. ki: the same, x T if per tick. kd: the same, / T if per
 * tick. k_angle: unchanged, k_angleI x T if per tick. Limits in output or angle units.
 * @throws RangeError where the standard form cannot hold the gains: kp 0 with ki or kd not 0.
 */
export function toFirmware(set: GainSet, units: FirmwareUnits): FirmwareGains {
	const one = (axis: AxisName): FirmwareAxisGains => {
		const f = factors(units, set.structure, axis);
		const g = set[axis];
		const parallel = {
			kp: g.kp * f.gain,
			ki: g.ki * f.gain * f.integral,
			kd: g.kd * f.gain * f.derivative,
		};
		return {
			core:
				units.form === "parallel"
					? { form: "parallel", ...parallel }
					: { form: "standard", ...parallelToStandard(parallel) },
			kAngle: g.kAngle,
			kAngleI: g.kAngleI * f.integral,
			kff: g.kff * f.gain,
			setPointWeight: g.setPointWeight,
			integralLimit: g.integralLimit * f.output,
			outputLimit: g.outputLimit * f.output,
			rateLimit: g.rateLimitRadPerSec * f.angle,
			angleIntegralLimit: g.angleIntegralLimitRadPerSec * f.angle,
			derivativeFilter: typedFilter(units, g.derivativeCutoffHz, f.periodSec),
		};
	};
	return { roll: one("roll"), pitch: one("pitch"), yaw: one("yaw") };
}

/** The builder's units to internal; what firmware gains do not hold comes from `kept`. */
export function fromFirmware(
	gains: FirmwareGains,
	units: FirmwareUnits,
	kept: Pick<GainSet, "name" | "structure" | "filters" | "liftOff" | "limbLead">,
): GainSet {
	const one = (axis: AxisName): AxisGains => {
		const f = factors(units, kept.structure, axis);
		const g = gains[axis];
		const parallel = g.core.form === "parallel" ? g.core : standardToParallel(g.core);
		return {
			kAngle: g.kAngle,
			kAngleI: g.kAngleI / f.integral,
			kp: parallel.kp / f.gain,
			ki: parallel.ki / f.gain / f.integral,
			kd: parallel.kd / f.gain / f.derivative,
			kff: g.kff / f.gain,
			setPointWeight: g.setPointWeight,
			integralLimit: g.integralLimit / f.output,
			outputLimit: g.outputLimit / f.output,
			rateLimitRadPerSec: g.rateLimit / f.angle,
			angleIntegralLimitRadPerSec: g.angleIntegralLimit / f.angle,
			derivativeCutoffHz: cutoffOf(units, g.derivativeFilter, f.periodSec),
		};
	};
	return {
		name: kept.name,
		structure: kept.structure,
		filters: kept.filters,
		...(kept.liftOff === undefined ? {} : { liftOff: kept.liftOff }),
		...(kept.limbLead === undefined ? {} : { limbLead: kept.limbLead }),
		roll: one("roll"),
		pitch: one("pitch"),
		yaw: one("yaw"),
	};
}

function typedFilter(units: FirmwareUnits, cutoffHz: number, periodSec: number): number {
	if (units.derivativeFilter === "cutoffHz") return cutoffHz;
	const x = 2 * Math.PI * cutoffHz * periodSec;
	// (1 - a)/a = exp(x) - 1: the RC frequency whose coefficient is the same a.
	return units.derivativeFilter === "exp" ? Math.exp(-x) : Math.expm1(x) / (2 * Math.PI * periodSec);
}

function cutoffOf(units: FirmwareUnits, typed: number, periodSec: number): number {
	if (units.derivativeFilter === "cutoffHz") return typed;
	const x = units.derivativeFilter === "exp" ? -Math.log(typed) : Math.log1p(2 * Math.PI * periodSec * typed);
	const cutoffHz = x / (2 * Math.PI * periodSec);
	if (!(cutoffHz > 0 && Number.isFinite(cutoffHz)))
		throw new RangeError(
			`firmware derivativeFilter: ${typed}, expected ${units.derivativeFilter === "exp" ? "between 0 and 1" : "above 0 Hz"}`,
		);
	return cutoffHz;
}

/** Reorders one entry per rotor (a mix table's rows, commands) from the craft's order to rising motor number. */
export function byMotorNumber<T>(perRotor: readonly T[], motorNumbers: readonly number[]): T[] {
	requireDistinct(perRotor, motorNumbers);
	return perRotor
		.map((value, i) => ({ value, number: motorNumbers[i]! }))
		.sort((a, b) => a.number - b.number)
		.map(({ value }) => value);
}

/** The way back of `byMotorNumber`. */
export function byRotor<T>(perMotor: readonly T[], motorNumbers: readonly number[]): T[] {
	requireDistinct(perMotor, motorNumbers);
	const rising = [...motorNumbers].sort((a, b) => a - b);
	return motorNumbers.map((number) => perMotor[rising.indexOf(number)]!);
}

function requireDistinct(items: readonly unknown[], numbers: readonly number[]): void {
	if (items.length !== numbers.length || new Set(numbers).size !== numbers.length)
		throw new RangeError(
			`motorNumbers: ${numbers.join(", ")}, expected ${items.length} different numbers, one per rotor`,
		);
}
