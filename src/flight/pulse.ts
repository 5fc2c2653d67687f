import type { Pulse } from "../craft/model.ts";

/** The command that a speed controller makes of a latched one: rounded to the pulse's resolution or the protocol's steps. */
export function sentCommand(pulse: Pulse, command: number, rounding: boolean): number {
	if (!rounding) return command;
	if (pulse.kind === "digital")
		return pulse.steps > 0 ? Math.round(command * pulse.steps) / pulse.steps : command;
	if (!(pulse.resolutionUs > 0)) return command;
	const span = pulse.longestUs - pulse.shortestUs;
	const length = Math.round((pulse.shortestUs + command * span) / pulse.resolutionUs) * pulse.resolutionUs;
	return (length - pulse.shortestUs) / span;
}

/** From latch to the command being known: the pulse's own length, whole us, or the protocol's fixed time. */
export function transportUs(pulse: Pulse, sent: number): number {
	return pulse.kind === "digital"
		? pulse.transportUs
		: Math.round(pulse.shortestUs + sent * (pulse.longestUs - pulse.shortestUs));
}
