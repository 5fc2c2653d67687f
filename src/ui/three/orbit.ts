import type { Vec3 } from "../../math/types.ts";

/** A camera on a sphere about what it looks at. */
export interface Orbit {
	/** 0: from behind, looking forward; turns towards the right side: a quarter turn is from the right. */
	readonly aroundRad: number;
	/** 0: level; a quarter turn: from straight above. */
	readonly aboveRad: number;
	/** Over the distance at which all is in sight. */
	readonly zoom: number;
}

export type Side = "at an angle" | "from above" | "from behind" | "from the right";

export const SIDES: { readonly [side in Side]: Orbit } = {
	"at an angle": { aroundRad: -0.55, aboveRad: 0.62, zoom: 1 },
	"from above": { aroundRad: 0, aboveRad: Math.PI / 2, zoom: 1 },
	"from behind": { aroundRad: 0, aboveRad: 0, zoom: 1 },
	"from the right": { aroundRad: Math.PI / 2, aboveRad: 0, zoom: 1 },
};

const LOWEST_RAD = -0.35;
const between = (value: number, low: number, high: number): number => Math.max(low, Math.min(high, value));

/** Never upside down, never far below. */
export function turned(orbit: Orbit, aroundRad: number, aboveRad: number): Orbit {
	const around = orbit.aroundRad + aroundRad;
	return {
		...orbit,
		aroundRad: Math.atan2(Math.sin(around), Math.cos(around)),
		aboveRad: between(orbit.aboveRad + aboveRad, LOWEST_RAD, Math.PI / 2),
	};
}

export function zoomed(orbit: Orbit, factor: number): Orbit {
	return { ...orbit, zoom: between(orbit.zoom * factor, 0.3, 4) };
}

const STEP_RAD = (10 * Math.PI) / 180;

/** What a key does to the view; null: nothing. */
export function keyed(orbit: Orbit, key: string): Orbit | null {
	switch (key) {
		case "ArrowLeft":
			return turned(orbit, -STEP_RAD, 0);
		case "ArrowRight":
			return turned(orbit, STEP_RAD, 0);
		case "ArrowUp":
			return turned(orbit, 0, STEP_RAD);
		case "ArrowDown":
			return turned(orbit, 0, -STEP_RAD);
		case "+":
		case "=":
			return zoomed(orbit, 1 / 1.2);
		case "-":
			return zoomed(orbit, 1.2);
		default:
			return null;
	}
}

/** From the target to the camera, in the picture's axes. */
export function eyeOffset(orbit: Orbit, distance: number): Vec3 {
	const r = distance * orbit.zoom;
	const flat = Math.cos(orbit.aboveRad);
	return [
		r * flat * Math.sin(orbit.aroundRad),
		r * Math.sin(orbit.aboveRad),
		r * flat * Math.cos(orbit.aroundRad),
	];
}

/** The camera's own upward direction: defined also from straight above, where forward is up. */
export function eyeUp(orbit: Orbit): Vec3 {
	const lean = Math.sin(orbit.aboveRad);
	return [-lean * Math.sin(orbit.aroundRad), Math.cos(orbit.aboveRad), -lean * Math.cos(orbit.aroundRad)];
}

/** Distance at which a sphere fits into a view of that height and width. */
export function fittingDistance(radius: number, fieldRad: number, aspect: number): number {
	const half = Math.min(fieldRad / 2, Math.atan(Math.tan(fieldRad / 2) * aspect));
	return radius / Math.sin(half);
}
