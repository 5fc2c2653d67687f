import { IN } from "./signals.ts";
import {
	AXES,
	type AxisGains,
	type AxisName,
	type FixedGainSet,
	type GainSchedule,
	type GainSet,
	SCHEDULED_GAINS,
} from "./spec.ts";

/** Factors on kAngle, kp, ki, kd of roll, then of pitch, then of yaw, as they stand at one pose and load. */
export interface Factors {
	readonly out: Float64Array;
	/** Reads pose and load from a controller's input; false where neither has changed. Allocates nothing. */
	read(input: Float64Array): boolean;
}

/**
 * Between two breakpoints a factor goes over by s = t^2 (3 - 2 t), t from 0 to 1, first over the angle, then over the load: no corner in it, and it never passes the
 * breakpoints' own values. Beyond the ends it stays. The cubic is the smoothstep of Hermite interpolation with level ends, from memory.
 */
export function createFactors({ anglesRad, loadsKg, factors }: GainSchedule): Factors {
	const columns = loadsKg.length;
	const cells = anglesRad.length * columns;
	const tables = Float64Array.from(
		AXES.flatMap((axis) => SCHEDULED_GAINS.flatMap((gain) => factors[axis][gain].flat())),
	);
	const angles = Float64Array.from(anglesRad);
	const loads = Float64Array.from(loadsKg);
	const out = new Float64Array(12);
	const last = Float64Array.of(Number.NaN, Number.NaN);
	/** Between which rows and columns, and how far. */
	const place = new Float64Array(4);
	return {
		out,
		read(input) {
			if (input[IN.limbAngle] === last[0] && input[IN.load] === last[1]) return false;
			last[0] = input[IN.limbAngle]!;
			last[1] = input[IN.load]!;
			locate(angles, last, 0, place);
			locate(loads, last, 1, place);
			const row = place[0]!;
			const column = place[2]!;
			const right = columns > 1 ? 1 : 0;
			const below = angles.length > 1 ? columns : 0;
			for (let k = 0; k < 12; k++) {
				const at = k * cells + row * columns + column;
				const near = tables[at]! + place[1]! * (tables[at + below]! - tables[at]!);
				const far = tables[at + right]! + place[1]! * (tables[at + below + right]! - tables[at + right]!);
				out[k] = near + place[3]! * (far - near);
			}
			return true;
		},
	};
}

/** Writes the interval's index and the weight of its end into place[2 which], place[2 which + 1]. */
function locate(points: Float64Array, values: Float64Array, which: 0 | 1, place: Float64Array): void {
	const value = values[which]!;
	let i = 0;
	while (i < points.length - 2 && value >= points[i + 1]!) i++;
	let t = points.length > 1 ? (value - points[i]!) / (points[i + 1]! - points[i]!) : 0;
	if (!(t > 0)) t = 0;
	if (t > 1) t = 1;
	place[2 * which] = i;
	place[2 * which + 1] = t * t * (3 - 2 * t);
}

/** The set as it stands at one angle of its schedule's hinge and one load; itself where it has no schedule. */
export function fixedSet(set: GainSet, angleRad: number, loadKg: number): FixedGainSet {
	const { schedule } = set;
	if (!schedule) return set as FixedGainSet;
	const factors = createFactors(schedule);
	const input = new Float64Array(IN.length);
	input[IN.limbAngle] = angleRad;
	input[IN.load] = loadKg;
	factors.read(input);
	const scaled = (axis: AxisName): AxisGains => {
		const at = 4 * AXES.indexOf(axis);
		const gains = set[axis];
		const of = (k: number, value: number): number => value * factors.out[at + k]!;
		return {
			...gains,
			kAngle: of(0, gains.kAngle),
			kp: of(1, gains.kp),
			ki: of(2, gains.ki),
			kd: of(3, gains.kd),
		};
	};
	return { ...set, schedule: undefined, roll: scaled("roll"), pitch: scaled("pitch"), yaw: scaled("yaw") };
}
