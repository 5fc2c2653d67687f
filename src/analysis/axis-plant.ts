import type { AxisName } from "../control/spec.ts";

/**
 * One axis at one operating point as the control loop sees it: from u to what the loop reads, everything but
 * the gains (rotors, body, holds, sensors, transport), the other two axes' loops left open.
 */
export interface AxisPlant {
	readonly axis: AxisName;
	/** Control period T. */
	readonly periodSec: number;
	/** Slowest clock inside the opened loop, receiver excluded. */
	readonly slowestClockSec: number;
	/** The same for the rate loop alone: without a fused attitude's clock. */
	readonly slowestRateClockSec: number;
	/** True when every age inside is constant (clocks equal, or dividing the control period), so that a scalar L(z) is exact. */
	readonly equalClocks: boolean;
	/** Spacing of new gyro samples as the control law's derivative sees them. */
	readonly rateSpacingSec: number;
	/**
	 * At each tick: x+ = A x + bCommand u + bTorque tau (tau an outside torque in N m held over the tick),
	 * read by the loop at that tick BEFORE u takes effect: rate = cRate x, angle = cAngle x (both as sampled, with
	 * their ages; the part of a delay beyond whole ticks is exact where clocks are equal and the mean age elsewhere).
	 * trueRate and trueAngle are the body's own at the tick. Row-major, n x n.
	 */
	readonly sampled: SampledAxis;
	/**
	 * The same with tilt and velocity left out: what the rate loop alone is judged by. With the angle loop open the real
	 * craft drifts off slowly (speed leans it back or over); a pilot or the angle loop holds that. cAngle is 0.
	 */
	readonly sampledRate: SampledAxis;
	/**
	 * Frequency answer at omega (rad/s) below pi/T: out = [Re, Im of rate/u, Re, Im of angle/u, Re, Im of rate/u with tilt and
	 * velocity left out], as read by the loop at its ticks; equal to the sampled models where clocks are equal, corrected by the
	 * mean-age rule elsewhere. out may be 4 long: the last pair is then not written.
	 */
	respond(omegaRadPerSec: number, out: Float64Array): void;
}

/** See `AxisPlant.sampled`. */
export interface SampledAxis {
	readonly order: number;
	readonly a: Float64Array;
	readonly bCommand: Float64Array;
	readonly bTorque: Float64Array;
	readonly cRate: Float64Array;
	readonly cAngle: Float64Array;
	readonly cTrueRate: Float64Array;
	readonly cTrueAngle: Float64Array;
}
