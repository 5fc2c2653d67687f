import type { GainSet } from "../control/spec.ts";
import type { Craft, OperatingPoint } from "../craft/model.ts";
import type { Trim } from "../physics/trim.ts";
import type { Drill } from "./drill.ts";
import type { Ending } from "./endings.ts";
import type { LiveEntry } from "./live.ts";
import type { FlightResult } from "./result.ts";
import type { Wiring } from "./wiring.ts";

export interface FlightSetup {
	readonly craft: Craft;
	readonly point: OperatingPoint;
	readonly gainSet: GainSet;
	readonly drill: Drill;
	readonly options?: FlightOptions;
	/** Where what was built differs from what the firmware believes; trim stays that of the right build. */
	readonly wiring?: Wiring;
}

export interface FlightOptions {
	/** Longest integration step; default 1000. */
	readonly maxStepUs?: number;
	/** Sensor noise, vibration, jitter, skipped ticks, free phases drawn from the seed; default true. Off: free phases are 0. */
	readonly noise?: boolean;
	/** Gyro resolution and pulse resolution; default true. */
	readonly rounding?: boolean;
	/** Trace spacing; default the control period, at least 1000; 0 records nothing. */
	readonly recordPeriodUs?: number;
	/** Trace columns to keep, for who reads no others; default all. What is recorded does not change the flight. */
	readonly columns?: readonly string[];
	/** Instead of the drill's. */
	readonly seed?: number;
}

/** A flight under way. Its whole state is one flat array; only the seeded random streams stand outside. */
export interface Flight {
	readonly trim: Trim;
	/** All events at times below or at `timeUs` are served, unless the flight ends first. Allocates nothing but in drill events. */
	advanceTo(timeUs: number): void;
	/** Serves every event before `timeUs`, then integrates to it: a state between two hyperperiods. */
	advanceJustBefore(timeUs: number): void;
	readonly nowUs: number;
	readonly ending: Ending | null;
	/** The flat state; the kernel's x is its first entries. */
	readonly state: Float64Array;
	snapshot(): Float64Array;
	/** Back to a snapshot, possibly with entries changed. Not across a load taken up or let go; random streams go on. */
	restore(snapshot: Float64Array): void;
	/** Where the entries that a small signal lives in stand now: same names in the same order at every hyperperiod. */
	live(): readonly LiveEntry[];
	result(): FlightResult;
}

/** Options with their defaults. @throws RangeError for a clock that is not a whole number of microseconds above 0. */
export function resolveOptions(setup: FlightSetup) {
	const { craft, drill } = setup;
	const { timing } = craft;
	const options = setup.options ?? {};
	const noise = options.noise ?? true;
	const rounding = options.rounding ?? true;
	const maxStepUs = options.maxStepUs ?? 1000;
	const seed = options.seed ?? drill.seed;
	const recordUs = options.recordPeriodUs ?? Math.max(1000, timing.control.periodUs);
	for (const [name, value] of [
		["maxStepUs", maxStepUs],
		["gyro.periodUs", timing.gyro.periodUs],
		["control.periodUs", timing.control.periodUs],
		["escFrame.periodUs", timing.escFrame.periodUs],
	] as const)
		if (!(Number.isInteger(value) && value > 0))
			throw new RangeError(`createFlight: ${name} ${value}, expected a whole number of microseconds above 0`);
	const endUs = Math.round(drill.durationSec * 1e6);
	const rows = recordUs > 0 ? Math.floor(endUs / recordUs) + 2 : 0;
	return { noise, rounding, maxStepUs, seed, recordUs, rows, columns: options.columns ?? null };
}
