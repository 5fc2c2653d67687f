import * as mat3 from "../../math/mat3.ts";
import type { Mat3, Quat, Vec3 } from "../../math/types.ts";

/*
 * The picture's axes: x to the right, y up, z towards the viewer. World north-east-down and body forward-right-down map
 * alike: north and forward go into the screen (-z), east and right to x, down to -y. A proper rotation, so that the
 * vector part of a quaternion maps as any vector does and its scalar part stays.
 */
export const placeInPicture = ([forward, right, down]: Vec3): Vec3 => [right, -down, -forward];

/** Attitude (w, x, y, z), body to world, as three orders it: x, y, z, w. */
export function turnInPicture([w, x, y, z]: Quat): readonly [number, number, number, number] {
	return [...placeInPicture([x, y, z]), w];
}

/** Where the picture's x, y, z go when the body is turned by a matrix in its own axes. */
export const turnedInPicture = (turn: Mat3): readonly [Vec3, Vec3, Vec3] => [
	placeInPicture(mat3.times(turn, [0, 1, 0])),
	placeInPicture(mat3.times(turn, [0, 0, -1])),
	placeInPicture(mat3.times(turn, [-1, 0, 0])),
];
