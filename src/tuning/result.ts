import type { AxisName, FixedGainSet, GainSet } from "../control/spec.ts";
import type { OperatingPoint } from "../craft/model.ts";
import type { Character, Limits } from "./characters.ts";

/** What `tune` is asked. */
export interface TuneOptions {
	readonly character: Character;
	/** The scenario file's own limits for this character. */
	readonly limits?: { readonly [limit: string]: number };
	/** Name of the gain set that comes out; default 'A'. */
	readonly name?: string;
	/** Filters of the rate path that the firmware has; default none. */
	readonly filters?: GainSet["filters"];
	/** Whether yaw may use kd; default false. */
	readonly yawDerivative?: boolean;
	/** Default: every corner of the craft. */
	readonly corners?: readonly TuneCorner[];
	/** Whether 'what would buy more' is worked out (about ten smaller searches); default true. */
	readonly alternatives?: boolean;
}

/** One worst-case combination with a name such as 'nearly empty, heaviest load, hover, lag +20 %'. */
export interface TuneCorner {
	readonly name: string;
	readonly point: OperatingPoint;
}

/** Every limit that can stop the search. */
export type ConstraintName =
	| "stable"
	| "rateLoopMs"
	| "angleLoopMs"
	| "wholeAxisMs"
	| "angleLoopMt"
	| "rateLoopPhaseMargin"
	| "angleLoopPhaseMargin"
	| "wholeAxisPhaseMargin"
	| "rateLoopGainMarginUp"
	| "angleLoopGainMarginUp"
	| "wholeAxisGainMarginUp"
	| "rateLoopGainMarginDown"
	| "angleLoopGainMarginDown"
	| "wholeAxisGainMarginDown"
	| "rateLoopDelayMargin"
	| "angleLoopDelayMargin"
	| "wholeAxisDelayMargin"
	| "noise"
	| "integralRatio"
	| "angleRatio"
	| "authority";

export interface BindingConstraint {
	readonly axis: AxisName;
	readonly constraint: ConstraintName;
	/** Name of the corner. */
	readonly corner: string;
	/** In `unit`. */
	readonly value: number;
	readonly limit: number;
	readonly unit: string;
	/** In plain words with its numbers. */
	readonly sentence: string;
}

/** Internal units; yaw has no angle loop. */
export interface TunedGains {
	readonly kAngle: number | null;
	readonly kp: number;
	readonly ki: number;
	readonly kd: number;
}

/** What the objective is made of; all of it is printed. */
export interface AxisProblem {
	readonly axis: AxisName;
	/**
	 * What the craft can do at all, at its nominal point: where the phase of rate/u falls to -135 degrees, or, if lower, where a
	 * loop that fast would ask for the whole authority in a set-point step.
	 */
	readonly naturalRadPerSec: number;
	/** Outside torque step, N m: a tenth of what this axis can make at hover. */
	readonly torqueStepNm: number;
	/** Of the angle, rad; yaw: of the rate, rad/s. */
	readonly setPointStep: number;
	/** u that the axis may use at hover; the gain set's output limit. */
	readonly authority: number;
	readonly horizonSec: number;
	/** What IAE after the torque step and after the set-point step are divided by: rad s (yaw: rad). */
	readonly ref1: number;
	readonly ref2: number;
	readonly derivativeCutoffHz: number;
	/** One-sided density before the gyro's low-pass. */
	readonly gyroNoiseRadPerSecPerRootHz: number;
}

export interface CornerMetrics {
	readonly corner: string;
	/** J of this corner, and its two parts before division. */
	readonly objective: number;
	readonly torqueIae: number;
	readonly setPointIae: number;
	/** Of the set-point step, linear. */
	readonly overshootPct: number;
	readonly peakDisturbance: number;
	readonly crossoverRadPerSec: number;
	readonly rateLoop: LoopNumbers;
	/** Null for yaw. */
	readonly angleLoop: LoopNumbers | null;
	readonly wholeAxis: LoopNumbers | null;
	readonly noiseRms: number;
	readonly stable: boolean;
}

/** Infinity where there is no such crossing. */
export interface LoopNumbers {
	readonly ms: number;
	readonly mt: number;
	readonly phaseMarginDeg: number;
	readonly gainMarginUpDb: number;
	readonly gainMarginDownDb: number;
	readonly delayMarginSec: number;
	readonly crossoverRadPerSec: number;
}

export interface AxisTuning {
	readonly axis: AxisName;
	readonly feasible: boolean;
	/** Null when infeasible. */
	readonly gains: TunedGains | null;
	/** J in the worst corner; null when infeasible. */
	readonly objective: number | null;
	readonly problem: AxisProblem;
	readonly binding: readonly BindingConstraint[];
	/** The corner with the largest J; null when infeasible. */
	readonly worst: CornerMetrics | null;
	/** ki/kp, 1/s; k_angle and crossover beside it are what a practitioner looks at. Null when infeasible. */
	readonly integralRatio: number | null;
	/** Lowest and highest rate-loop crossover over the corners, rad/s. */
	readonly crossoverRange: readonly [number, number] | null;
	/** Empty when feasible: which limits conflict, where, by how much. */
	readonly why: string;
	/** Set when the periodic (lifted) answer asked for a step back: how far and why; or of yaw, beside what it was judged. */
	readonly periodicNote: string;
	/** Candidates looked at, by how far they got. */
	readonly counters: {
		readonly candidates: number;
		readonly frequencyTests: number;
		readonly stepTests: number;
	};
}

/** One change and what it would do to the tuning. */
export interface Alternative {
	/** Such as 'attitude at 200 Hz instead of 100'. */
	readonly change: string;
	/** Roll, unless another axis gains more. */
	readonly axis: AxisName;
	/** Relative fall of the objective: 0.2 is a fifth better. Null: makes an infeasible problem feasible. */
	readonly gain: number | null;
	/** 'attitude at 200 Hz instead of 100: k_angle 4.1 to 6.0'. */
	readonly sentence: string;
}

export interface TuneResult {
	readonly character: Character;
	readonly limits: Limits;
	readonly feasible: boolean;
	/** Per axis null where infeasible. */
	readonly gains: { readonly [A in AxisName]: TunedGains | null };
	/** Complete, with output, integral and rate limits and f_d by stated rules; null when an axis is infeasible. */
	readonly gainSet: FixedGainSet | null;
	readonly axes: { readonly [A in AxisName]: AxisTuning };
	readonly binding: readonly BindingConstraint[];
	readonly objective: { readonly [A in AxisName]: number | null };
	readonly corners: readonly TuneCorner[];
	/** Corners where the craft cannot fly at all, left out of the search: name and reason. */
	readonly unflyable: readonly { readonly corner: string; readonly reason: string }[];
	/** What would buy more, best first; when infeasible: what would make it feasible, cheapest first. */
	readonly alternatives: readonly Alternative[];
	/** Rules by which the rest of the gain set was filled, one sentence each. */
	readonly rules: readonly string[];
}
