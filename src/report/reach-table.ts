import { fixed } from "./format.ts";
import type { ReachNumbers } from "./reach-json.ts";

/** One load at one pose: what steady hover and the loops have left. */
export const REACH_COLUMNS: readonly {
	readonly title: string;
	readonly unit: string /** Where room is short. */;
	readonly short: string;
}[] = [
	{ title: "load", unit: "g", short: "load g" },
	{ title: "centre", unit: "mm", short: "centre mm" },
	{ title: "tilt", unit: "deg", short: "tilt" },
	{ title: "room", unit: "%", short: "room %" },
	{ title: "motors +", unit: "%", short: "motors +%" },
	{ title: "servo", unit: "N m", short: "servo N m" },
	{ title: "J off", unit: "1e-4", short: "J off" },
	{ title: "gain", unit: "dB", short: "dB" },
	{ title: "phase", unit: "deg", short: "deg" },
];

export const REACH_COLUMN_WORDS =
	"Steady hover at each pose, every hinge from folded. Tilt: degrees of lean that wind and balance ask for. Room: what the busiest motor has left of full command. Motors +: per motor, above the bare folded craft. Servo: torque to hold the pose. J off: largest product of inertia, 1e-4 kg m^2. Gain, phase: what roll, pitch and yaw may change together (multi-loop disk margin).";

/** Pose, then a cell per column of `REACH_COLUMNS`. */
export function reachRows({ poses }: Pick<ReachNumbers, "poses">): string[][] {
	const each = (values: readonly number[], decimals: number): string =>
		values.map((value) => fixed(value, decimals)).join(", ");
	return poses.flatMap((pose) =>
		pose.loads.map((cell) => [
			each(pose.poseDeg, 0),
			fixed(cell.loadGrams, 0),
			each(cell.centreOfMassMm, 0),
			fixed(cell.tiltDeg, 1),
			cell.commands.length > 0 ? fixed(100 * (1 - Math.max(...cell.commands)), 0) : "-",
			each(
				cell.shift.map((value) => 100 * value),
				0,
			),
			each(cell.servoNm, 2),
			cell.productsKgM2.length > 0 ? fixed(1e4 * Math.max(...cell.productsKgM2.map(Math.abs)), 1) : "-",
			fixed(cell.diskGainDb, 1),
			fixed(cell.diskPhaseDeg, 0),
		]),
	);
}
