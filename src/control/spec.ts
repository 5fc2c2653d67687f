/**
 * One gain set, complete, in internal units: u is a fraction of command (one unit of u adds the mixer's
 * largest entry, 1, to a motor's command 0..1). Per axis, radians and seconds:
 * cascade and rate-only: kp per rad/s, ki per rad, kd per rad/s^2, kff per rad/s, kAngle 1/s, kAngleI 1/s^2;
 * single angle PID (roll and pitch; yaw stays a rate loop): kp per rad, ki per rad s, kd per rad/s, kff unused.
 */
export interface GainSet extends Omit<FixedGainSet, "schedule"> {
	/** Gains that follow the limb and the load; left out: they stay as they are. */
	readonly schedule?: GainSchedule | undefined;
}

/** A gain set as it stands at one pose of the limb and one load: what a linear loop is closed with. */
export interface FixedGainSet {
	readonly name: string;
	readonly structure: Structure;
	readonly roll: AxisGains;
	readonly pitch: AxisGains;
	readonly yaw: AxisGains;
	/** In the rate path, in order, at the control tick. */
	readonly filters: readonly FilterSpec[];
	/** When integrals may begin to run; null: they run on the ground too. Left out: DEFAULT_LIFT_OFF. */
	readonly liftOff?: LiftOffRule | null;
	/** Share of the trim that limb and load ask for that is added to u as the limb moves; left out: 0. */
	readonly limbLead?: number;
	readonly schedule?: undefined;
}

/** Factors on the set's own gains over the angle of one of the limb's hinges and over the load that the firmware knows of: `schedule.ts`. */
export interface GainSchedule {
	/** Which hinge, counted from the airframe, and its name; empty where there is no limb. */
	readonly link: number;
	readonly hinge: string;
	/** Breakpoints, ascending; one where the angle changes nothing. */
	readonly anglesRad: readonly number[];
	readonly loadsKg: readonly number[];
	/** Per axis and gain: one row per angle, one entry per load. */
	readonly factors: {
		readonly [A in AxisName]: { readonly [G in ScheduledGain]: readonly (readonly number[])[] };
	};
}

export type ScheduledGain = "kAngle" | "kp" | "ki" | "kd";
export const SCHEDULED_GAINS: readonly ScheduledGain[] = ["kAngle", "kp", "ki", "kd"];

/** Lifted off once throttle has stood at this share of the expected hover throttle for so long, since motors were made live. */
export interface LiftOffRule {
	readonly hoverShare: number;
	readonly forSec: number;
}

export const DEFAULT_LIFT_OFF: LiftOffRule = { hoverShare: 0.8, forSec: 0.2 };

export type Structure = "cascade" | "anglePid" | "rateOnly";
export type AxisName = "roll" | "pitch" | "yaw";
export const AXES: readonly AxisName[] = ["roll", "pitch", "yaw"];

export interface AxisGains {
	readonly kAngle: number;
	readonly kAngleI: number;
	readonly kp: number;
	readonly ki: number;
	readonly kd: number;
	readonly kff: number;
	/** b in P = kp (b set-point - measured). */
	readonly setPointWeight: number;
	/** |I| stays below this; fraction of command. */
	readonly integralLimit: number;
	/** |u| stays below this; fraction of command. */
	readonly outputLimit: number;
	/** |rate set-point| stays below this. */
	readonly rateLimitRadPerSec: number;
	/** |angle integral| stays below this. */
	readonly angleIntegralLimitRadPerSec: number;
	/** f_d of the derivative's low-pass. */
	readonly derivativeCutoffHz: number;
}

export type FilterSpec =
	| { readonly kind: "lowPass1"; readonly cutoffHz: number }
	| { readonly kind: "lowPass2"; readonly cutoffHz: number; readonly damping: number }
	| { readonly kind: "notch"; readonly centreHz: number; readonly widthHz: number };
