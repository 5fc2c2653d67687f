import type { AxisName, GainSet } from "../../../../control/spec.ts";

/** The gains that a plane may have along a side. */
export type PlaneGain = "kAngle" | "kp" | "ki" | "kd";

export const GAIN_WORDS: Readonly<Record<PlaneGain, string>> = {
	kAngle: "k_angle",
	kp: "kp",
	ki: "ki",
	kd: "kd",
};

/** How far a side reaches about the gain that it was laid out around. */
export const SPREADS = [
	{ key: "log2", words: "half to twice", scale: "log", low: 1 / 2, high: 2 },
	{ key: "log4", words: "a quarter to four times", scale: "log", low: 1 / 4, high: 4 },
	{ key: "log16", words: "a sixteenth to sixteen times", scale: "log", low: 1 / 16, high: 16 },
	{ key: "linear2", words: "none to twice, in even steps", scale: "linear", low: 0, high: 2 },
	{ key: "linear4", words: "none to four times, in even steps", scale: "linear", low: 0, high: 4 },
] as const;
export type Spread = (typeof SPREADS)[number];

/** One side of the plane, internal units. */
export interface Side {
	readonly gain: PlaneGain;
	readonly scale: "linear" | "log";
	readonly low: number;
	readonly high: number;
}

/** The gains that act on an axis: k_angle needs an angle loop. */
export function planeGains(set: GainSet, axis: AxisName): readonly PlaneGain[] {
	return set.structure === "cascade" && axis !== "yaw" ? ["kp", "ki", "kd", "kAngle"] : ["kp", "ki", "kd"];
}

/** A gain of 0 has no 'half to twice': its side is laid out about what is usual beside the set's kp. */
export function centreOf(set: GainSet, axis: AxisName, gain: PlaneGain): number {
	const gains = set[axis];
	if (gains[gain] > 0) return gains[gain];
	const kp = gains.kp > 0 ? gains.kp : 0.01;
	return { kAngle: 5, kp, ki: 3 * kp, kd: kp / 50 }[gain];
}

export function sideAbout(gain: PlaneGain, centre: number, spread: Spread): Side {
	return { gain, scale: spread.scale, low: centre * spread.low, high: centre * spread.high };
}

/** Position along a side, 0 to 1; outside it less or more. */
export function shareOf(side: Side, value: number): number {
	if (side.scale === "linear") return (value - side.low) / (side.high - side.low);
	return Math.log(Math.max(value, 1e-300) / side.low) / Math.log(side.high / side.low);
}

/** The gain at a position along a side, to four figures: what is shown is what is taken. */
export function gainAt(side: Side, share: number): number {
	const within = Math.max(0, Math.min(1, share));
	const value =
		side.scale === "linear"
			? side.low + within * (side.high - side.low)
			: side.low * (side.high / side.low) ** within;
	return Number(value.toPrecision(4));
}

export const isInside = (side: Side, value: number): boolean =>
	value >= side.low * (1 - 1e-9) && value <= side.high * (1 + 1e-9);

/** `count` values from one end to the other. */
export function sideValues(side: Side, count: number): number[] {
	return Array.from({ length: count }, (_, i) => {
		const t = i / (count - 1);
		return side.scale === "linear"
			? side.low + t * (side.high - side.low)
			: side.low * (side.high / side.low) ** t;
	});
}
