import type { Mixer } from "../control/mixer.ts";
import type { Plant } from "./plant.ts";
import { pullAt, pullAtVoltage } from "./pull.ts";
import type { Trim } from "./trim.ts";

/**
 * Height over throttle about a hover, small signals: slope / (s (s + damping) (1 + lag s)).
 * All rotors move alike; wind, ground effect and the turning of the craft are left out.
 */
export interface Heave {
	/** Upward acceleration per unit of throttle once rotors and battery have settled, m/s^2. */
	readonly slope: number;
	/** Inflow's share of vertical speed taken back, 1/s. */
	readonly dampingPerSec: number;
	/** Mean of the lags up and down, shortened by the sag that a faster rotor makes, s. */
	readonly lagSec: number;
}

const STEP = 1e-4;

export function heaveAt(plant: Plant, mixer: Mixer, trim: Trim): Heave {
	const shifted = (by: number): Float64Array =>
		trim.commands.map((c) => c + by * mixer.slope(c, trim.voltageV));
	const up = shifted(STEP);
	const down = shifted(-STEP);
	const perThrottle = 1 / (2 * STEP * plant.massKg);
	const slope = (pullAt(plant, up).liftN - pullAt(plant, down).liftN) * perThrottle;
	const stiff =
		(pullAtVoltage(plant, up, trim.voltageV).liftN - pullAtVoltage(plant, down, trim.voltageV).liftN) *
		perThrottle;
	let damping = 0;
	let lag = 0;
	plant.rotors.forEach((rotor, i) => {
		damping += (rotor.inflowCoefficient * trim.speedsRadPerSec[i]! * rotor.axis[2] ** 2) / plant.massKg;
		lag += (rotor.tauUpSec + rotor.tauDownSec) / (2 * plant.rotors.length);
	});
	// dW/dt = (W_ss(c, V(W)) - W)/tau: sag takes the same share of the settled speed and of the lag.
	return { slope, dampingPerSec: damping, lagSec: (lag * slope) / stiff };
}
