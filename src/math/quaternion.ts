import type { Mat3, Quat, Vec3 } from "./types.ts";

/** Body-to-world rotation matrix of a unit quaternion. */
export function toMatrix([w, x, y, z]: Quat): Mat3 {
	return [
		1 - 2 * (y * y + z * z),
		2 * (x * y - w * z),
		2 * (x * z + w * y),
		2 * (x * y + w * z),
		1 - 2 * (x * x + z * z),
		2 * (y * z - w * x),
		2 * (x * z - w * y),
		2 * (y * z + w * x),
		1 - 2 * (x * x + y * y),
	];
}

/** Z-Y-X Euler angles (roll, pitch, yaw) in radians to a unit quaternion. */
export function fromEuler([roll, pitch, yaw]: Vec3): Quat {
	const cr = Math.cos(roll / 2);
	const sr = Math.sin(roll / 2);
	const cp = Math.cos(pitch / 2);
	const sp = Math.sin(pitch / 2);
	const cy = Math.cos(yaw / 2);
	const sy = Math.sin(yaw / 2);
	return [
		cr * cp * cy + sr * sp * sy,
		sr * cp * cy - cr * sp * sy,
		cr * sp * cy + sr * cp * sy,
		cr * cp * sy - sr * sp * cy,
	];
}

/** Unit quaternion to Z-Y-X Euler angles (roll, pitch, yaw) in radians; pitch within +-pi/2. */
export function toEuler([w, x, y, z]: Quat): Vec3 {
	return [
		Math.atan2(2 * (y * z + w * x), 1 - 2 * (x * x + y * y)),
		Math.asin(Math.max(-1, Math.min(1, 2 * (w * y - x * z)))),
		Math.atan2(2 * (x * y + w * z), 1 - 2 * (y * y + z * z)),
	];
}
