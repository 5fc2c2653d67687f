import type { Vec3 } from "../math/types.ts";
import { BODY, type Posture } from "../physics/joint-tree.ts";
import { writeTurn } from "../physics/turn.ts";

/** What the trace says of each thing that hangs, rad; the names get its index. */
export const HANG_COLUMNS = ["swing", "swingNorth", "swingEast"] as const;

const turn = new Float64Array(9);

/**
 * Which way body `b` hangs from its hinge, into out[at..]: angle from straight down, then that angle's share towards north and towards east (the rotation that
 * brings straight down there is about a level axis, by the first number). Straight up counts as a swing to the north. Allocates nothing.
 */
export function writeHang(posture: Posture, b: number, x: Float64Array, out: Float64Array, at: number): void {
	const { bodies } = posture;
	const from = BODY.length * b;
	const dx = bodies[from + BODY.centre]! - bodies[from + BODY.hinge]!;
	const dy = bodies[from + BODY.centre + 1]! - bodies[from + BODY.hinge + 1]!;
	const dz = bodies[from + BODY.centre + 2]! - bodies[from + BODY.hinge + 2]!;
	writeTurn(x, turn);
	const north = turn[0]! * dx + turn[1]! * dy + turn[2]! * dz;
	const east = turn[3]! * dx + turn[4]! * dy + turn[5]! * dz;
	const down = turn[6]! * dx + turn[7]! * dy + turn[8]! * dz;
	const side = Math.sqrt(north * north + east * east);
	const swing = Math.atan2(side, down);
	out[at] = swing;
	out[at + 1] = side > 0 ? (swing * north) / side : swing;
	out[at + 2] = side > 0 ? (swing * east) / side : 0;
}

/** Unit vector from where it is held to what hangs, north-east-down, from the two shares of the trace. */
export function hangDirection(swingNorthRad: number, swingEastRad: number): Vec3 {
	const swing = Math.hypot(swingNorthRad, swingEastRad);
	const share = swing > 0 ? Math.sin(swing) / swing : 1;
	return [share * swingNorthRad, share * swingEastRad, Math.cos(swing)];
}
