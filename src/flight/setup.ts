import type { GainSet } from "../control/spec.ts";
import type { Craft, OperatingPoint } from "../craft/model.ts";
import type { Drill } from "./drill.ts";

export interface FlightSetup {
	readonly craft: Craft;
	readonly point: OperatingPoint;
	readonly gainSet: GainSet;
	readonly drill: Drill;
	readonly options?: FlightOptions;
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
	/** Instead of the drill's. */
	readonly seed?: number;
}
