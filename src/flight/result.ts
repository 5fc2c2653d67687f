/** How a flight ended. Every ending but 'completed' carries the time and a reason with its number. */
export type FlightStatus = "completed" | "diverged" | "flipped" | "brownOut" | "hitGround" | "tippedOver";

/** How it ended, in words. */
export const STATUS_WORDS: { readonly [S in FlightStatus]: string } = {
	completed: "completed",
	diverged: "diverged",
	flipped: "flipped over",
	brownOut: "brown-out",
	hitGround: "hit the ground",
	tippedOver: "tipped over",
};

export interface FlightResult {
	readonly status: FlightStatus;
	/** When it ended. */
	readonly timeSec: number;
	/** A plain sentence; for 'completed' empty. */
	readonly reason: string;
	readonly trace: Trace;
	/** What the firmware did by itself, such as refusing to be made live, sentences with their time. */
	readonly notes: readonly string[];
	/** Warnings about the model's validity, such as descent into the own wake. */
	readonly outsideModel: readonly string[];
	readonly counters: { readonly steps: number; readonly ticks: number; readonly events: number };
	readonly seed: number;
}

/** Columns of equal length; column names are the keys (see `TRACE_COLUMNS` for units). */
export interface Trace {
	readonly length: number;
	readonly columns: { readonly [name: string]: Float64Array };
}

/** Every trace column with its unit as a person reads it in SI. Rotor columns end in the rotor's index from 0. */
export const TRACE_COLUMNS: readonly {
	readonly name: string;
	readonly unit: string;
	readonly perRotor?: true;
	/** Only where a limb moves or something swings; the name ends in the index from 0 of the link, or of what hangs in the order it was taken up. */
	readonly limb?: true;
}[] = [
	{ name: "time", unit: "s" },
	{ name: "rollSetPoint", unit: "rad" },
	{ name: "pitchSetPoint", unit: "rad" },
	{ name: "roll", unit: "rad" },
	{ name: "pitch", unit: "rad" },
	{ name: "yaw", unit: "rad" },
	{ name: "rollRateSetPoint", unit: "rad/s" },
	{ name: "pitchRateSetPoint", unit: "rad/s" },
	{ name: "yawRateSetPoint", unit: "rad/s" },
	{ name: "rollRate", unit: "rad/s" },
	{ name: "pitchRate", unit: "rad/s" },
	{ name: "yawRate", unit: "rad/s" },
	{ name: "rollRateMeasured", unit: "rad/s" },
	{ name: "pitchRateMeasured", unit: "rad/s" },
	{ name: "yawRateMeasured", unit: "rad/s" },
	{ name: "rollOutput", unit: "fraction" },
	{ name: "pitchOutput", unit: "fraction" },
	{ name: "yawOutput", unit: "fraction" },
	{ name: "rollIntegral", unit: "fraction" },
	{ name: "pitchIntegral", unit: "fraction" },
	{ name: "yawIntegral", unit: "fraction" },
	{ name: "throttle", unit: "fraction" },
	{ name: "north", unit: "m" },
	{ name: "east", unit: "m" },
	{ name: "down", unit: "m" },
	{ name: "velocityNorth", unit: "m/s" },
	{ name: "velocityEast", unit: "m/s" },
	{ name: "velocityDown", unit: "m/s" },
	{ name: "batteryVoltage", unit: "V" },
	// Roll, pitch and yaw have a motor at full or lowest where throttle asks for neither, and no foot is on the ground.
	{ name: "saturated", unit: "0 or 1" },
	{ name: "command", unit: "fraction", perRotor: true },
	{ name: "rotorSpeed", unit: "rad/s", perRotor: true },
	{ name: "limbAngle", unit: "rad", limb: true },
	{ name: "limbTorque", unit: "N m", limb: true },
	{ name: "limbCurrent", unit: "A", limb: true },
	// From straight down, and that angle's share towards north and east (`load-hang.ts`); 0 while nothing hangs there.
	{ name: "swing", unit: "rad", limb: true },
	{ name: "swingNorth", unit: "rad", limb: true },
	{ name: "swingEast", unit: "rad", limb: true },
];
