interface ColumnWords {
	/** Short, for the head of a column and the axis of a picture. */
	readonly title: string;
	readonly meaning: string;
}

/** Every column of a sweep in words. */
export const WORDS: { readonly [column: string]: ColumnWords } = {
	stable: { title: "stable", meaning: "1 stable, 0 not" },
	stabilityRadius: {
		title: "distance to instability",
		meaning: "least |1 + L| over all openings; 0.5 or more is calm, 0 is unstable",
	},
	rateLoopPeak: { title: "rate loop Ms", meaning: "peak of the rate loop's sensitivity; below 2 is calm" },
	phaseMarginDeg: { title: "phase margin deg", meaning: "the least over all openings" },
	gainMarginUpDb: { title: "gain up dB", meaning: "how far the gain may rise" },
	gainMarginDownDb: { title: "gain down dB", meaning: "how far the gain may fall" },
	delayMarginMs: { title: "delay margin ms", meaning: "how much more delay it bears" },
	crossoverHz: { title: "crossover Hz", meaning: "how fast the rate loop acts" },
	completed: { title: "completed", meaning: "1 flown to the end, 0 not" },
	overshootPct: { title: "overshoot %", meaning: "of the step" },
	riseTimeMs: { title: "rise ms", meaning: "10 to 90 % of the step" },
	settlingTimeMs: { title: "settled ms", meaning: "within 2 % of the step for good" },
	steadyStateErrorDeg: { title: "end error", meaning: "in degrees at the end of the drill (yaw: deg/s)" },
	iaeDegSec: {
		title: "IAE",
		meaning: "distance from the set-point summed over time, less is better",
	},
	saturatedPct: {
		title: "at the end of its range %",
		meaning: "share of the time that roll, pitch or yaw has some motor there",
	},
};

/** A column's name for people. */
export const columnTitle = (name: string): string => WORDS[name]?.title ?? name;
