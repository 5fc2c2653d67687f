import type { AxisName } from "../control/spec.ts";
import type { OperatingPoint } from "../craft/model.ts";
import type { Margin, ScalarLoopResult } from "./scalar-loop-types.ts";

/** `margins` as a structure: what a gain set keeps at one operating point. */
export type MarginsResult =
	| { readonly feasible: true; readonly report: MarginsReport }
	/** No trim, so there is nothing to hold margins about. */
	| { readonly feasible: false; readonly reason: string };

export interface MarginsReport {
	readonly axes: Readonly<Record<AxisName, AxisMargins>>;
	readonly periodic: PeriodicReport;
	/** Roll, pitch and yaw disturbed together at u. */
	readonly disk: DiskReport;
	/** Rate-only use: how the craft drifts off when no one holds its tilt; null otherwise. */
	readonly slowMode: SlowMode | null;
	/** What the linear model leaves out or changes, sentences. */
	readonly notes: readonly string[];
}

/** What findings need of it. */
export interface MarginsBrief {
	readonly axes: Readonly<Record<AxisName, Pick<AxisMargins, "rateLoop" | "angleLoop" | "wholeAxis">>>;
	readonly periodic: Pick<PeriodicReport, "hyperperiodSec" | "spectralRadius" | "stable">;
}

export interface AxisMargins {
	/** The gyro path opened at u, the angle path open. */
	readonly rateLoop: ScalarLoopResult;
	/** Opened at the angle error, the rate loop closed; null for yaw and in rate-only use. */
	readonly angleLoop: ScalarLoopResult | null;
	/** Opened at u, both closed; null where there is no angle loop. */
	readonly wholeAxis: ScalarLoopResult | null;
	/** For every null above, its reason. */
	readonly why: Readonly<Record<string, string>>;
	/** At the rate loop's crossover (single angle PID: the whole axis's); empty without one. */
	readonly phaseLedger: readonly LedgerEntry[];
	readonly ledgerRadPerSec: number | null;
	readonly felt: FeltFrequencies;
}

/** One line of the phase ledger; the degrees of all lines add up to arg L. */
export interface LedgerEntry {
	readonly element: string;
	/** Null where it is a lag and not a delay. */
	readonly delaySec: number | null;
	readonly degrees: number;
	/** 'timing': part of the chain between tilt and thrust; 'control': the law itself; 'craft': motors and body. */
	readonly kind: "timing" | "control" | "craft";
}

/** One gain raised alone until the axis oscillates; null where it never does. */
export interface FeltLimit {
	readonly gain: "kp" | "ki" | "kd" | "kAngle";
	/** The gain may rise to this many times its value. */
	readonly factor: number;
	readonly hz: number;
}

export interface FeltFrequencies {
	/** Too much kp. */
	readonly fastShake: FeltLimit | null;
	/** Too much ki or kAngle, whichever comes first. */
	readonly slowWallow: FeltLimit | null;
	readonly limits: readonly FeltLimit[];
	/** 'fast shake near 7 Hz: lower kp; slow wallow near 0.7 Hz: lower ki or k_angle' */
	readonly sentence: string;
	readonly why: Readonly<Record<string, string>>;
}

interface PeriodicReport {
	readonly hyperperiodSec: number;
	readonly equalClocks: boolean;
	/** Sentence about changed clocks; empty: none. */
	readonly rationalised: string;
	/** All axes closed together. */
	readonly spectralRadius: number;
	readonly stable: boolean;
	/** Whether axes were answered one by one, their coupling being negligible. */
	readonly axesApart: boolean;
	readonly axes: Readonly<Record<AxisName, PeriodicAxis>>;
}

export interface PeriodicAxis {
	readonly stable: boolean;
	readonly spectralRadius: number;
	readonly rateLoop: PeriodicLoop;
	readonly angleLoop: PeriodicLoop | null;
	readonly wholeAxis: PeriodicLoop | null;
}

/** Margins of the loop lifted over one hyperperiod; `radPerSec` is the frequency answer's. */
export interface PeriodicLoop {
	readonly gainMarginUpDb: Margin;
	readonly gainMarginDownDb: Margin;
	readonly delayMarginSec: Margin;
	/** This answer less the frequency answer's; null where either has none. */
	readonly difference: {
		readonly gainMarginUpDb: number | null;
		readonly gainMarginDownDb: number | null;
		readonly delayMarginSec: number | null;
	};
}

export interface DiskReport {
	/** Balanced (sigma 0); null when the loops are unstable. */
	readonly alpha: number | null;
	/** Each loop's gain may change by plus or minus this, all at once and any phase below included. */
	readonly gainDb: number | null;
	readonly phaseDeg: number | null;
	readonly radPerSec: number | null;
	readonly why: string;
}

export interface SlowMode {
	readonly axis: "roll" | "pitch";
	/** Growth (positive) or decay rate of the least stable one, 1/s. */
	readonly growthPerSec: number;
	/** 0 when it does not swing. */
	readonly hz: number;
	readonly sentence: string;
}

/** One worst-case combination. */
export interface Corner {
	/** Such as 'full battery, no load, inertia -15 %, thrust +10 %, lag +20 %, hover'. */
	readonly name: string;
	readonly point: OperatingPoint;
}
