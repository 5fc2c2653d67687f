import type { Pulse } from "../craft/model.ts";

/**
 * One latched command under way: s[slot + 1] holds it and becomes what the speed controller makes of it, rounded to the
 * pulse's resolution or the protocol's steps; s[slot] becomes the time from latch until it is known, whole us: the pulse's own length,
 * or the protocol's fixed time.
 */
export function sendPulse(pulse: Pulse, rounding: boolean, s: Float64Array, slot: number): void {
	const command = s[slot + 1]!;
	if (pulse.kind === "digital") {
		if (rounding && pulse.steps > 0) s[slot + 1] = Math.round(command * pulse.steps) / pulse.steps;
		s[slot] = pulse.transportUs;
		return;
	}
	const span = pulse.longestUs - pulse.shortestUs;
	let length = pulse.shortestUs + command * span;
	if (rounding && pulse.resolutionUs > 0) {
		length = Math.round(length / pulse.resolutionUs) * pulse.resolutionUs;
		s[slot + 1] = (length - pulse.shortestUs) / span;
	}
	s[slot] = Math.round(length);
}
