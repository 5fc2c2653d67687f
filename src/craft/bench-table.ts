import type { BenchPoint, MotorsInput } from "./input.ts";
import type { SpeedCurve } from "./model.ts";
import { COMMON, type Notes } from "./notes.ts";

/**
 * A bench table to a speed curve and kT. Where speed was measured, kT is the least-squares slope of thrust over speed
 * squared through zero; else the speeds are those that kT (given or by propeller size) needs for the thrusts, so that
 * thrust is as measured but speed, torque and gyroscopics are as good as kT. Where voltage was measured, each point is
 * brought to the reference voltage (speed goes with voltage).
 */
export function benchCurve(
	motors: MotorsInput,
	referenceVoltageV: number,
	coefficient: () => number,
	notes: Notes,
): { coefficient: number; curve: SpeedCurve } | null {
	const bench = motors.bench!;
	if (!isUsable(bench, notes)) return null;
	const spinning = bench.filter((p) => p.thrust > 0);
	const measured = spinning.every((p) => p.speed !== undefined);
	const k = measured ? (motors.thrustCoefficient ?? fitThrust(spinning)) : coefficient();
	if (!measured)
		notes.assumeWord(undefined, 0, {
			path: "craft.motors.bench[].speed",
			value: "speed = sqrt(thrust/kT)",
			because:
				"the table has no speed, so rotor speed, drag torque (yaw) and gyroscopics are only as good as the thrust coefficient; thrust is as measured",
			source: "T = kT W^2",
			measure: "an optical tachometer or the speed controller's own report, at each point of the table",
		});
	const speeds = spinning.map((p) => {
		const speed = measured ? p.speed! : Math.sqrt(p.thrust / k);
		return p.voltage === undefined ? speed : (speed * referenceVoltageV) / p.voltage;
	});
	const commands = spinning.map((p) => p.command);
	for (let i = 1; i < speeds.length; i++)
		if (!(speeds[i]! > speeds[i - 1]!)) {
			const at = bench.indexOf(spinning[i]!);
			notes.problem(
				`craft.motors.bench[${at}].${measured ? "speed" : "thrust"}`,
				measured ? spinning[i]!.speed : spinning[i]!.thrust,
				"more than at the point before, once brought to one voltage: the curve must rise",
				"measure that point again, or leave it out",
			);
			return null;
		}
	if (commands[commands.length - 1]! < 1) extend(commands, speeds, notes);
	return { coefficient: k, curve: { commands, speedsRadPerSec: speeds, referenceVoltageV } };
}

function isUsable(bench: readonly BenchPoint[], notes: Notes): boolean {
	const before = notes.problems.length;
	bench.forEach((p, i) => {
		const last = bench[i - 1];
		if (last !== undefined && !(p.command > last.command))
			notes.problem(
				`craft.motors.bench[${i}].command`,
				p.command,
				`above the command before it, ${last.command}`,
			);
		if (last !== undefined && p.thrust < last.thrust)
			notes.problem(
				`craft.motors.bench[${i}].thrust`,
				p.thrust,
				`not below the thrust before it, ${last.thrust} N`,
			);
		if (p.speed !== undefined && p.thrust > 0 && !(p.speed > 0))
			notes.problem(`craft.motors.bench[${i}].speed`, p.speed, "above 0 where there is thrust");
	});
	if (notes.problems.length === before && bench.filter((p) => p.thrust > 0).length < 2)
		notes.problem("craft.motors.bench", bench.length, "at least two points with thrust above 0");
	return notes.problems.length === before;
}

/** Least squares through zero of T over W^2. */
function fitThrust(points: readonly BenchPoint[]): number {
	let up = 0;
	let down = 0;
	for (const { thrust, speed } of points) {
		const w2 = speed! * speed!;
		up += thrust * w2;
		down += w2 * w2;
	}
	return up / down;
}

function extend(commands: number[], speeds: number[], notes: Notes): void {
	const n = commands.length;
	const slope = (speeds[n - 1]! - speeds[n - 2]!) / (commands[n - 1]! - commands[n - 2]!);
	const speed = speeds[n - 1]! + slope * (1 - commands[n - 1]!);
	notes.assumeWord(undefined, 0, {
		path: "craft.motors.bench",
		value: `${speed.toPrecision(4)} rad/s at full command`,
		because: `the table ends at command ${commands[n - 1]}; the last straight goes on to 1`,
		source: COMMON,
		measure: "one more bench point at full command",
	});
	commands.push(1);
	speeds.push(speed);
}
