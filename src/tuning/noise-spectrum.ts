import type { Craft } from "../craft/model.ts";

/**
 * Spectrum of the gyro's samples as the loop reads them, per unit of theta = omega T over (0, pi), so that
 * variance of u = 1/pi integral of S |H|^2 dtheta.
 *
 * White noise of one-sided density N through the sensor's first-order low-pass f_c has variance N^2 f_c pi/2 and, sampled at
 * period P, the correlation a^|k|, a = exp(-2 pi f_c P) (Astrom, Introduction to Stochastic Control Theory, 1970, chapter 3;
 * from memory): S = variance (1 - a^2)/|1 - a e^{-j theta}|^2. Without a low-pass: white, N^2/(2 P), what a sampler that
 * averages over its own period would pass. A gyro slower than the loop is held for m ticks.
 */
export function gyroNoiseSpectrum(
	sensors: Craft["sensors"],
	gyroPeriodSec: number,
	periodSec: number,
): (omegaRadPerSec: number) => number {
	const density = sensors.gyroNoiseRadPerSecPerRootHz ** 2;
	const cutoff = sensors.gyroLowPassHz;
	const held = Math.max(1, Math.round(gyroPeriodSec / periodSec));
	const spacing = held > 1 ? gyroPeriodSec : periodSec;
	const variance = cutoff === null ? density / (2 * gyroPeriodSec) : (density * Math.PI * cutoff) / 2;
	const a = cutoff === null ? 0 : Math.exp(-2 * Math.PI * cutoff * spacing);
	return (omega) => {
		const theta = omega * periodSec;
		const sampled = (variance * (1 - a * a)) / (1 + a * a - 2 * a * Math.cos(held * theta));
		if (held === 1) return sampled;
		const ratio = Math.sin((held * theta) / 2) / Math.sin(theta / 2);
		return (sampled * ratio * ratio) / held;
	};
}
