/** L at omega (rad/s), written into out = [Re, Im]. Negative feedback: the closed loop is 1/(1 + L). */
export type LoopResponse = (omegaRadPerSec: number, out: Float64Array) => void;

/** What `analyseScalarLoop` needs to know about a loop besides its response. */
export interface ScalarLoop {
	readonly respond: LoopResponse;
	/** Scanned range. A sampled loop's highest is pi/T, where L is real. */
	readonly lowestRadPerSec: number;
	readonly highestRadPerSec: number;
	/** Given: sampled, so that highestRadPerSec is a true end of the axis and not where the scan stops. */
	readonly periodSec?: number;
	/** Whether the closed loop is stable, decided by the caller (poles, encirclements or the lifted map). */
	readonly stable: boolean;
	/** Why it is not, for the reader. */
	readonly whyUnstable?: string;
	/** L as omega goes to 0 where it is finite; 'infinite' with an integrator; left out: the scan's first value. */
	readonly atZero?: number | "infinite";
	/** L as omega goes to infinity, real, for a continuous loop without delay; left out: taken as 0. */
	readonly atInfinity?: number;
	/** A delay known to be in a continuous L, so that the scan steps over no turn of it. */
	readonly delaySec?: number;
	/** Frequencies (rad/s) the scan must look at: poles and zeros, lightly damped ones above all. */
	readonly hintsRadPerSec?: readonly number[];
}

/** A number, or null with the reason why there is none. */
export type Margin =
	| { readonly value: number; readonly radPerSec: number; readonly why?: undefined }
	| {
			readonly value: null;
			readonly radPerSec: null;
			readonly why: string;
			/** 'satisfied': nothing in that direction harms, any limit is met. 'undefined': unstable. */
			readonly verdict: "satisfied" | "undefined";
	  };

/** |L| = 1 here. */
export interface GainCrossing {
	readonly kind: "gain";
	readonly radPerSec: number;
	/** 180 + arg L in (-180, 180]; negative: past the critical point. */
	readonly marginDeg: number;
	/** Least added delay that brings L to -1 here: in (0, 2 pi / omega]. */
	readonly delaySec: number;
}

/** L is real and negative here. */
export interface PhaseCrossing {
	readonly kind: "phase";
	readonly radPerSec: number;
	/** 20 log10 of 1/|L|: negative where gain must fall to reach -1. */
	readonly marginDb: number;
}

export type Crossing = GainCrossing | PhaseCrossing;

export interface ScalarLoopResult {
	readonly stable: boolean;
	/** Empty when stable. */
	readonly why: string;
	/** Every crossing in the scanned range, by rising frequency, whether stable or not. */
	readonly crossings: readonly Crossing[];
	/** dB that gain may rise, > 0. */
	readonly gainMarginUpDb: Margin;
	/** dB that gain may fall, > 0. */
	readonly gainMarginDownDb: Margin;
	/** Least |180 + arg L| over all gain crossings. */
	readonly phaseMarginDeg: Margin;
	/** Least added delay over all gain crossings; its crossing need not be that of the phase margin. */
	readonly delayMarginSec: Margin;
	/** The HIGHEST gain crossing: the one that fast dynamics and delay act on. */
	readonly crossoverRadPerSec: Margin;
	/** First frequency where |L/(1+L)| falls 3 dB below its value at the lowest frequency. */
	readonly bandwidthRadPerSec: Margin;
	/** Peak of |1/(1+L)|. */
	readonly ms: Margin;
	/** Peak of |L/(1+L)|. */
	readonly mt: Margin;
	/** Least |1 + L|: 1/Ms. */
	readonly stabilityRadius: Margin;
}
