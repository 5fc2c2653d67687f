import type { Vec3 } from "../math/types.ts";

const AXES = ["roll", "pitch", "yaw"] as const;

/**
 * The first axis whose column of a mixer table (one row per rotor: roll, pitch, yaw) is made of throttle, the same for every
 * rotor, and the columns before it: no command is that axis's own. Null where there is none. By Gram and Schmidt's method.
 */
export function idleColumn(table: readonly Vec3[]): (typeof AXES)[number] | null {
	const throttle = table.map(() => 1 / Math.sqrt(table.length));
	const known = [throttle];
	for (const [k, axis] of AXES.entries()) {
		const column = table.map((row) => row[k]!);
		const own = known.reduce((rest, base) => {
			const along = rest.reduce((sum, x, i) => sum + x * base[i]!, 0);
			return rest.map((x, i) => x - along * base[i]!);
		}, column);
		const size = Math.hypot(...own);
		if (!(size > 1e-9 * Math.hypot(...column))) return axis;
		known.push(own.map((x) => x / size));
	}
	return null;
}
