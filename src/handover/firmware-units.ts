/**
 * How the builder's own code writes its gains. Everything the loop multiplies is covered; frames and signs are the
 * model's own (forward-right-down).
 */
export interface FirmwareUnits {
	readonly angle: "deg" | "rad";
	/** perTick: I += ki e, the period is inside ki (or Ti counts ticks). */
	readonly integral: "perSecond" | "perTick";
	/**
	 * perTick: D = kd (x - x_before), the period is inside kd (or Td counts ticks). A single angle PID takes its
	 * derivative from the gyro, where no period enters, so that this is not used there.
	 */
	readonly derivative: "perSecond" | "perTick";
	readonly output: "us" | "fraction" | "percent" | "counts";
	/** What the whole command range 0..1 is in that output: 1000 us, 1, 100 % or so many timer counts. */
	readonly outputFullScale: number;
	/** parallel: kp, ki, kd. standard: kp (1 + 1/(Ti s) + Td s). */
	readonly form: "parallel" | "standard";
	/** The numbers are the same; on error, a set-point step passes through D as well. */
	readonly derivativeOn: "measurement" | "error";
	/**
	 * What is typed for d = a d + (1 - a) x. cutoffHz: a frequency f of which the code makes a = exp(-2 pi f T).
	 * exp: a itself. rc: a frequency of which the code makes a = RC/(RC + T), RC = 1/(2 pi f).
	 */
	readonly derivativeFilter: "cutoffHz" | "exp" | "rc";
	readonly loopHz: number;
	/**
	 * Largest entry of each column (roll, pitch, yaw) of the code's own mix table over that of the mixer here: 1 where
	 * both are the same table.
	 */
	readonly mixLargestEntry: readonly [number, number, number];
	/** The code's motor number of each rotor, in the craft's order of rotors; null: as the craft says. */
	readonly motorNumbers: readonly number[] | null;
}

/** us of pulse per deg/s, per-second gains, parallel form, at this loop rate. */
export function defaultFirmwareUnits(loopHz: number): FirmwareUnits {
	return {
		angle: "deg",
		integral: "perSecond",
		derivative: "perSecond",
		output: "us",
		outputFullScale: 1000,
		form: "parallel",
		derivativeOn: "measurement",
		derivativeFilter: "cutoffHz",
		loopHz,
		mixLargestEntry: [1, 1, 1],
		motorNumbers: null,
	};
}
