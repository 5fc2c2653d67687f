import { formatQuantity } from "../units/format.ts";
import type { BenchPoint, MotorsInput } from "./input.ts";
import type { Notes } from "./notes.ts";

/** A point as the electrical side needs it: W rad/s and volts as measured, not brought to one voltage. */
interface PowerPoint {
	readonly index: number;
	readonly thrustN: number;
	readonly speedRadPerSec: number;
	readonly watt: number;
}

/** What the day of measurement and the craft must be known for. */
export interface BenchRotor {
	readonly thrustCoefficient: number;
	readonly torqueCoefficient: number;
	/** Thrust of one rotor in hover. */
	readonly hoverThrustN: number;
}

/**
 * kQ from a bench table's torque column: the least-squares slope of torque over speed squared through zero, the speed
 * being thrust/kT where it was not measured. Null without the column.
 */
export function benchTorque(bench: readonly BenchPoint[], thrustCoefficient: number): number | null {
	let up = 0;
	let down = 0;
	for (const { torque, thrust, speed } of bench) {
		if (torque === undefined || !(thrust > 0)) continue;
		const w2 = speed === undefined ? thrust / thrustCoefficient : speed * speed;
		up += torque * w2;
		down += w2 * w2;
	}
	return up > 0 ? up / down : null;
}

/**
 * Efficiency from battery to shaft out of a bench table with current: at each point eta = kQ W^3/(V I). The model has one
 * efficiency, so the geometric mean of the one at hover thrust (between its neighbours, straight in thrust; the nearest
 * where it lies outside) and the one at the largest thrust: power is then wrong by the same factor at both ends, once up
 * and once down, and that factor is said. Null without a current column, and where something is wrong with it.
 */
export function benchEfficiency(motors: MotorsInput, rotor: BenchRotor, notes: Notes): number | null {
	const points = powerPoints(motors, rotor.thrustCoefficient, notes);
	if (points === null || points.length === 0) return null;
	const at = points.map((p) => (rotor.torqueCoefficient * p.speedRadPerSec ** 3) / p.watt);
	const wrong = at.findIndex((eta) => !(eta <= 1));
	if (wrong >= 0) {
		const { index, watt } = points[wrong]!;
		notes.problem(
			`craft.motors.bench[${index}].current`,
			motors.bench![index]!.current,
			`more current: ${formatQuantity("power", watt)} in cannot give ${formatQuantity("power", at[wrong]! * watt)} at the shaft`,
			"is it of ONE motor, the voltage under load? the shaft's is torque coefficient times speed cubed",
		);
		return null;
	}
	const hover = between(points, at, rotor.hoverThrustN);
	const full = at[at.length - 1]!;
	const value = Math.sqrt(hover * full);
	const percent = (x: number): string => `${Number((100 * x).toPrecision(3))} %`;
	return notes.assumeWord(undefined, value, {
		path: "craft.battery.efficiency",
		value: formatQuantity("fraction", value),
		because: `the bench table's current: ${percent(hover)} at hover thrust, ${percent(full)} at its last point; the model has one, their geometric mean, so power is ${percent(Math.abs(Math.sqrt(hover / full) - 1))} too ${hover > full ? "high" : "low"} in hover and about as much too ${hover > full ? "low" : "high"} at full`,
		source: "P = V I against kQ W^3",
		measure: "more points with voltage and current around hover; the torque beside them",
	});
}

/** Null where a point cannot be used; a problem then says why. */
function powerPoints(motors: MotorsInput, thrustCoefficient: number, notes: Notes): PowerPoint[] | null {
	const before = notes.problems.length;
	const points: PowerPoint[] = [];
	motors.bench?.forEach(({ current, voltage, thrust, speed }, index) => {
		if (current === undefined || !(thrust > 0)) return;
		const volts = voltage ?? motors.measuredVoltage;
		const path = `craft.motors.bench[${index}]`;
		if (volts === undefined)
			notes.problem(
				`${path}.voltage`,
				undefined,
				"the voltage that this current was measured at",
				"give it at each point, or once as 'measuredVoltage'; without it leave 'current' out",
			);
		else if (!(current > 0)) notes.problem(`${path}.current`, current, "above 0 where there is thrust");
		else
			points.push({
				index,
				thrustN: thrust,
				speedRadPerSec: speed ?? Math.sqrt(thrust / thrustCoefficient),
				watt: volts * current,
			});
	});
	return notes.problems.length === before ? points : null;
}

function between(points: readonly PowerPoint[], values: readonly number[], thrustN: number): number {
	const above = points.findIndex((p) => p.thrustN >= thrustN);
	if (above < 0) return values[values.length - 1]!;
	if (above === 0) return values[0]!;
	const low = points[above - 1]!.thrustN;
	const share = (thrustN - low) / (points[above]!.thrustN - low);
	return values[above - 1]! + share * (values[above]! - values[above - 1]!);
}
