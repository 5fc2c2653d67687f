import type { Gains4 } from "./loop-test.ts";
import type { AxisSearchProblem } from "./problem.ts";

/** A point of the search: ln(k_angle/w), ln(kp/unit), ln(ki/(kp w)), kd w/kp, with w the natural frequency. */
export type Point = readonly [number, number, number, number];

export function gainsAt(problem: AxisSearchProblem, x: Point): Gains4 {
	const w = problem.numbers.naturalRadPerSec;
	const kp = problem.kpUnit * Math.exp(x[1]);
	return [
		problem.axis === "yaw" ? 0 : w * Math.exp(x[0]),
		kp,
		kp * w * Math.exp(x[2]),
		(kp * Math.max(0, x[3])) / w,
	];
}

/** Half widths that count as one cell of the scan, the unit of every box. */
export const CELL: Point = [0.35, 0.3, 0.5, 0.3];

/** Which of the four a problem leaves to be chosen. */
export const freedom = (problem: AxisSearchProblem): readonly boolean[] => [
	problem.axis !== "yaw",
	true,
	true,
	problem.usesDerivative,
];

/** `from` moved by `by` times a step in cells; kd stays at or above 0. */
export function moved(from: Point, step: readonly number[], by = 1): Point {
	return [
		from[0] + by * step[0]! * CELL[0],
		from[1] + by * step[1]! * CELL[1],
		from[2] + by * step[2]! * CELL[2],
		Math.max(0, from[3] + by * step[3]! * CELL[3]),
	];
}
