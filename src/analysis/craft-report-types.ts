/** What `check` says about flying at one operating point. */
export interface CraftReport {
	readonly hover: HoverReport | null;
	/** Why there is no hover; empty otherwise. */
	readonly whyNoHover: string;
	readonly findings: readonly Finding[];
	readonly verdict: Verdict;
}

export interface HoverReport {
	/** 0..1, mean over the motors. */
	readonly command: number;
	/** Throttle stick 0..1 at which it hovers, and its range over battery, load and thrust corners. */
	readonly stick: number;
	readonly stickRange: readonly [number, number];
	/** Mean over the rotors. */
	readonly rotorSpeedRadPerSec: number;
	readonly thrustToWeight: number;
	/** Drawn from the battery, electronics included. */
	readonly powerW: number;
	readonly voltageV: number;
	/** Hovering from full to nearly empty along the charge curve; null when the craft cannot hover that far down. */
	readonly enduranceMin: number | null;
	readonly whyNoEndurance: string;
	/** Upward acceleration per per cent of stick, m/s^2. */
	readonly throttleSlope: number;
}

export interface Finding {
	/** The rule's own name, for tests and links. */
	readonly rule: string;
	readonly level: "stop" | "care" | "fine";
	/** A plain sentence with its number. */
	readonly sentence: string;
	readonly reason: string;
}

export interface Verdict {
	readonly fit: boolean;
	/** Of the sentence: 'care' where it is fit with a weakness. */
	readonly level: Finding["level"];
	/** 'Fit to hover at ...; weakest: ...' */
	readonly sentence: string;
}
