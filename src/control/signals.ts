/**
 * Offsets in a controller's input array. Groups of three are roll, pitch, yaw; yaw's angles are not read. Radians,
 * seconds, volts; flags are 0 or 1. `rateSpacing`: time between this tick's new gyro sample and the one before,
 * 0 when this tick has no new one.
 */
export const IN = {
	angleSetPoint: 0,
	rateSetPoint: 3,
	angle: 6,
	rate: 9,
	throttle: 12,
	voltage: 13,
	rateSpacing: 14,
	lifted: 15,
	live: 16,
	/** Added to u: what the firmware knows to be asked, such as by a limb that it moves itself. */
	lead: 17,
	/** What a gain schedule follows: a hinge of the limb as the firmware knows it, rad from folded, and the load it knows of, kg. */
	limbAngle: 20,
	load: 21,
	length: 22,
} as const;

/** Offsets in its output array; `commands` come last, one per rotor. `u` is clamped to the output limit. */
export const OUT = {
	u: 0,
	rateSetPoint: 3,
	delivered: 6,
	integral: 9,
	/** 1 where roll, pitch and yaw have a motor at an end that throttle by itself does not ask for (`Mixer.mix`). */
	saturated: 12,
	commands: 13,
} as const;
