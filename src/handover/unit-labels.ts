import { AXES, type AxisName, type GainSet, type Structure } from "../control/spec.ts";
import type { FirmwareUnits } from "./firmware-units.ts";

/** The unit of each firmware number as a person reads it. ki and kd stand for Ti and Td in the standard form. */
export interface UnitLabels {
	readonly kp: string;
	readonly ki: string;
	readonly kd: string;
	readonly kff: string;
	readonly kAngle: string;
	readonly output: string;
	readonly rate: string;
	readonly derivativeFilter: string;
}

export const OUTPUT_NAMES = { us: "us", fraction: "", percent: "%", counts: "counts" } as const;

export function unitLabels(units: FirmwareUnits, structure: Structure, axis: AxisName): UnitLabels {
	const onAngle = structure === "anglePid" && axis !== "yaw";
	const angle = units.angle;
	const rate = `${angle}/s`;
	const per = (below: string): string => `${OUTPUT_NAMES[units.output]} per ${below}`.trim();
	const tick = (perTick: boolean): string => (perTick ? ", per tick" : "");
	const standard = units.form === "standard";
	const iTick = units.integral === "perTick";
	const dTick = units.derivative === "perTick" && !onAngle;
	// A sum over ticks or a difference over one leaves the unit of the error itself.
	const ki = onAngle ? (iTick ? angle : `${angle} s`) : iTick ? rate : angle;
	const kd = onAngle || dTick ? rate : `${rate}^2`;
	return {
		kp: per(onAngle ? angle : rate),
		ki: standard ? (iTick ? "ticks" : "s") : per(ki) + tick(iTick),
		kd: standard ? (dTick ? "ticks" : "s") : per(kd) + tick(dTick),
		kff: per(rate),
		kAngle: "1/s",
		output: OUTPUT_NAMES[units.output],
		rate,
		derivativeFilter: units.derivativeFilter === "exp" ? "" : "Hz",
	};
}

/** One line: 'kp 0.136 per rad/s x 1000 us x pi/180 = 2.37 us per deg/s'. */
export function describeConversion(set: GainSet, units: FirmwareUnits, axis: AxisName = "roll"): string {
	const onAngle = set.structure === "anglePid" && axis !== "yaw";
	const scale = units.outputFullScale;
	const entry = units.mixLargestEntry[AXES.indexOf(axis)]!;
	const steps: string[] = [];
	if (units.output !== "fraction" || scale !== 1)
		steps.push(`x ${three(scale)} ${OUTPUT_NAMES[units.output]}`.trim());
	if (entry !== 1) steps.push(`/ ${three(entry)}`);
	if (units.angle === "deg") steps.push("x pi/180");
	const value = (set[axis].kp * scale) / entry / (units.angle === "deg" ? 180 / Math.PI : 1);
	const inside = `kp ${three(set[axis].kp)} per ${onAngle ? "rad" : "rad/s"}`;
	return [inside, ...steps, "=", three(value), unitLabels(units, set.structure, axis).kp].join(" ");
}

/** Three figures, without trailing zeros or an exponent. */
export function three(value: number): string {
	if (value === 0 || !Number.isFinite(value)) return String(value);
	const decimals = Math.max(0, 2 - Math.floor(Math.log10(Math.abs(value))));
	return String(Number(value.toFixed(Math.min(decimals, 20))));
}
