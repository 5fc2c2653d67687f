import { hangDirection } from "../../flight/load-hang.ts";
import type { Trace } from "../../flight/result.ts";
import { fromEuler } from "../../math/quaternion.ts";
import type { Quat, Vec3 } from "../../math/types.ts";

/** Where a flight is at one instant. */
export interface Pose {
	/** Of the centre of mass of the whole, north-east-down, m. */
	readonly placeM: Vec3;
	readonly attitude: Quat;
	/** Per rotor, 0..1. */
	readonly commands: readonly number[];
	readonly rotorSpeedsRadPerSec: readonly number[];
	/** Of each link from folded; null where the trace has none: the limb does not move. */
	readonly limbRad: readonly number[] | null;
	/** Which way each load hangs or sloshes, north-east-down, in the order they were taken up; empty where the trace has none. */
	readonly hangs: readonly Vec3[];
}

/** Index of the last sample at or before the time, and how far on to the next one, 0..1. */
export function sampleAt(
	time: Float64Array,
	timeSec: number,
): { readonly index: number; readonly on: number } {
	const last = time.length - 1;
	if (last < 0) throw new RangeError("a trace without samples cannot be shown, expected at least one");
	if (!(timeSec > time[0]!)) return { index: 0, on: 0 };
	if (timeSec >= time[last]!) return { index: last, on: 0 };
	let low = 0;
	let high = last;
	while (high - low > 1) {
		const middle = (low + high) >> 1;
		if (time[middle]! <= timeSec) low = middle;
		else high = middle;
	}
	return { index: low, on: (timeSec - time[low]!) / (time[high]! - time[low]!) };
}

/** Between two attitudes the shorter way; exact enough for the small turns between samples. */
export function between(a: Quat, b: Quat, on: number): Quat {
	const side = a[0] * b[0] + a[1] * b[1] + a[2] * b[2] + a[3] * b[3] < 0 ? -1 : 1;
	const mixed = a.map((each, i) => each * (1 - on) + side * b[i]! * on);
	const norm = Math.hypot(...mixed);
	return mixed.map((each) => each / norm) as unknown as Quat;
}

export function poseAt({ columns }: Trace, timeSec: number, rotors: number): Pose {
	const { index, on } = sampleAt(columns["time"]!, timeSec);
	const next = Math.min(index + 1, columns["time"]!.length - 1);
	const at = (name: string, i: number): number => columns[name]![i]!;
	const mixed = (name: string): number => at(name, index) * (1 - on) + at(name, next) * on;
	const turn = (i: number): Quat => fromEuler([at("roll", i), at("pitch", i), at("yaw", i)]);
	const perRotor = (name: string, value: (column: string) => number): number[] =>
		Array.from({ length: rotors }, (_, i) => value(`${name}${i}`));
	const counted = (pattern: RegExp): number =>
		Object.keys(columns).filter((name) => pattern.test(name)).length;
	const links = counted(/^limbAngle\d+$/);
	return {
		placeM: [mixed("north"), mixed("east"), mixed("down")],
		attitude: between(turn(index), turn(next), on),
		// A command holds until the next one.
		commands: perRotor("command", (name) => at(name, index)),
		rotorSpeedsRadPerSec: perRotor("rotorSpeed", mixed),
		limbRad: links > 0 ? Array.from({ length: links }, (_, i) => mixed(`limbAngle${i}`)) : null,
		hangs: Array.from({ length: counted(/^swing\d+$/) }, (_, i) =>
			hangDirection(mixed(`swingNorth${i}`), mixed(`swingEast${i}`)),
		),
	};
}

/** The way flown up to a time, at most so many points, the last one where the craft is. */
export function trail({ columns }: Trace, timeSec: number, most: number): Vec3[] {
	const { index } = sampleAt(columns["time"]!, timeSec);
	const step = Math.max(1, Math.ceil((index + 1) / most));
	const points: Vec3[] = [];
	for (let i = 0; i <= index; i += step)
		points.push([columns["north"]![i]!, columns["east"]![i]!, columns["down"]![i]!]);
	return points;
}
