import type { Craft } from "../craft/model.ts";
import type { Random } from "../math/random.ts";
import { bodyRates, ESTIMATE, GYRO, type Kernel, ROTORS } from "../physics/kernel-layout.ts";

/** What the sensors say at a sampling instant. Allocates nothing. */
export interface SensorModel {
	/** Body rates to out[at..+2]: low-passed, with bias, noise, vibration lines, resolution. */
	gyro(x: Float64Array, out: Float64Array, at: number): void;
	/** Roll and pitch as the estimator has them, and yaw, to out[at..+2]. */
	angles(x: Float64Array, out: Float64Array, at: number): void;
}

/**
 * Noise is white before the low-pass: behind it an exactly sampled first-order process of variance N^2 (pi/2) f_c;
 * without a low-pass it is taken up to half the sample rate. Each rotor adds a line at its speed, amplitude A (W/W_hover)^2 times
 * the low-pass's gain there; its phase is carried exactly by the trapezoid of the speeds at samples, so it aliases as in reality.
 */
export function createSensors(
	craft: Craft,
	kernel: Kernel,
	hoverSpeed: number,
	random: Random,
	noise: boolean,
	rounding: boolean,
): SensorModel {
	const { sensors } = craft;
	const n = craft.rotors.length;
	const dt = craft.timing.gyro.periodUs * 1e-6;
	const corner = sensors.gyroLowPassHz;
	const density = sensors.gyroNoiseRadPerSecPerRootHz;
	const spread = density * Math.sqrt(corner === null ? 0.5 / dt : (Math.PI / 2) * corner);
	const keep = corner === null ? 0 : Math.exp(-2 * Math.PI * corner * dt);
	const drive = spread * Math.sqrt(1 - keep * keep);
	const state = Float64Array.from([0, 1, 2], () => (noise ? spread * random.normal() : 0));
	const phases = Float64Array.from({ length: n }, () => (noise ? 2 * Math.PI * random.uniform() : 0));
	const speeds = new Float64Array(n).fill(Number.NaN);
	const fresh = new Float64Array(3);
	const resolution = rounding ? sensors.gyroResolutionRadPerSec : 0;
	const bias = sensors.gyroBiasRadPerSec;
	const shake = noise ? sensors.vibrationRadPerSec : 0;
	const addLines = (x: Float64Array, out: Float64Array, at: number): void => {
		for (let i = 0; i < n; i++) {
			const w = x[ROTORS + i]!;
			const before = speeds[i]!;
			speeds[i] = w;
			let phase = phases[i]! + (Number.isNaN(before) ? 0 : 0.5 * (before + w) * dt);
			// Exact, as the remainder is, and cheaper; below zero or beyond two turns a sample the remainder itself.
			if (phase >= 2 * Math.PI) phase = phase < 4 * Math.PI ? phase - 2 * Math.PI : phase % (2 * Math.PI);
			phases[i] = phase;
			const ratio = w / hoverSpeed;
			const gain = corner === null ? 1 : 1 / Math.sqrt(1 + (w / (2 * Math.PI * corner)) ** 2);
			const size = shake * ratio * ratio * gain;
			const sine = size * Math.sin(phase);
			const cosine = THIRD_TURN * size * Math.cos(phase);
			out[at]! += sine;
			out[at + 1]! += cosine - 0.5 * sine;
			out[at + 2]! += -cosine - 0.5 * sine;
		}
	};
	return {
		gyro(x, out, at) {
			if (corner === null) {
				bodyRates(kernel, x, scratch);
				for (let i = 0; i < 3; i++) out[at + i] = scratch[i]! + bias[i]!;
			} else for (let i = 0; i < 3; i++) out[at + i] = x[GYRO + i]! + bias[i]!;
			if (noise) {
				random.normals(fresh, 0, 3);
				for (let i = 0; i < 3; i++) {
					state[i] = keep * state[i]! + drive * fresh[i]!;
					out[at + i]! += state[i]!;
				}
				if (shake > 0) addLines(x, out, at);
			}
			if (resolution > 0)
				for (let i = 0; i < 3; i++) out[at + i] = Math.round(out[at + i]! / resolution) * resolution;
		},
		angles(x, out, at) {
			eulerAngles(x, out, at);
			out[at]! += x[ESTIMATE]! + sensors.levelOffsetRad[0];
			out[at + 1]! += x[ESTIMATE + 1]! + sensors.levelOffsetRad[1];
			if (noise && sensors.attitudeNoiseRad > 0) {
				random.normals(fresh, 0, 2);
				out[at]! += sensors.attitudeNoiseRad * fresh[0]!;
				out[at + 1]! += sensors.attitudeNoiseRad * fresh[1]!;
			}
		},
	};
}

const scratch = new Float64Array(3);
/** sin(120 degrees): the axes' lines are a third of a turn apart. */
const THIRD_TURN = Math.sqrt(3) / 2;

/** Roll, pitch, yaw of a kernel state to out[at..+2]. */
export function eulerAngles(x: Float64Array, out: Float64Array, at: number): void {
	const w = x[6]!;
	const i = x[7]!;
	const j = x[8]!;
	const k = x[9]!;
	out[at] = Math.atan2(2 * (j * k + w * i), 1 - 2 * (i * i + j * j));
	out[at + 1] = Math.asin(Math.max(-1, Math.min(1, 2 * (w * j - i * k))));
	out[at + 2] = Math.atan2(2 * (i * j + w * k), 1 - 2 * (j * j + k * k));
}
