import type { Vec3 } from "../math/types.ts";

/** What the feet meet: a plane through the world's origin. */
export interface GroundSpec {
	/** Steepness, and the heading (0 north, clockwise) towards which it falls. */
	readonly slopeRad: number;
	readonly downhillHeadingRad: number;
	/** How deep the resting craft sinks in: a millimetre is a hard floor, a few centimetres soft earth. */
	readonly sinkM: number;
	/** Of the bounce, 1 none. */
	readonly dampingRatio: number;
	readonly friction: number;
	/** A foot that arrives faster breaks: the flight ends with 'hitGround'. */
	readonly crashMPerSec: number;
}

export const LEVEL_GROUND: GroundSpec = {
	slopeRad: 0,
	downhillHeadingRad: 0,
	sinkM: 0.002,
	dampingRatio: 0.5,
	friction: 0.6,
	crashMPerSec: 2,
};

/** Out of the ground, unit, world axes (north, east, down). */
export function groundNormal({ slopeRad, downhillHeadingRad }: GroundSpec): Vec3 {
	const side = Math.sin(slopeRad);
	return [side * Math.cos(downhillHeadingRad), side * Math.sin(downhillHeadingRad), -Math.cos(slopeRad)];
}

/** Straight downhill along the plane, unit, world axes. */
export function downhill({ slopeRad, downhillHeadingRad }: GroundSpec): Vec3 {
	const flat = Math.cos(slopeRad);
	return [flat * Math.cos(downhillHeadingRad), flat * Math.sin(downhillHeadingRad), Math.sin(slopeRad)];
}
