import { DEFAULT_LIFT_OFF, type GainSet } from "../control/spec.ts";
import type { Layout } from "./layout.ts";

/** Motors live or safe, and whether the loop takes the craft for lifted off: kept in the flight's state. */
export interface Liveness {
	/** `inTheAir`: lifted at once, as for a flight that begins there. */
	makeLive(s: Float64Array, inTheAir: boolean): void;
	makeSafe(s: Float64Array): void;
	/** At each tick, before the control law: the gain set's own rule over the throttle that the loop sees. */
	watch(s: Float64Array, timeUs: number): void;
}

/** @param hoverThrottle what the firmware expects hover to take. */
export function createLiveness(gainSet: GainSet, layout: Layout, hoverThrottle: number): Liveness {
	const rule = gainSet.liftOff === undefined ? DEFAULT_LIFT_OFF : gainSet.liftOff;
	const { live, lifted, highSinceUs } = layout;
	const forUs = rule ? Math.round(rule.forSec * 1e6) : 0;
	const enough = rule ? rule.hoverShare * hoverThrottle : 0;
	return {
		makeLive(s, inTheAir) {
			s[live] = 1;
			s[lifted] = inTheAir || rule === null ? 1 : 0;
			s[highSinceUs] = -1;
		},
		makeSafe(s) {
			s[live] = 0;
			s[lifted] = 0;
			s[highSinceUs] = -1;
		},
		watch(s, timeUs) {
			if (s[lifted] !== 0 || s[live] === 0) return;
			if (s[layout.throttle]! < enough) s[highSinceUs] = -1;
			else {
				if (s[highSinceUs]! < 0) s[highSinceUs] = timeUs;
				if (timeUs - s[highSinceUs]! >= forUs) s[lifted] = 1;
			}
		},
	};
}
