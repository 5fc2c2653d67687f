import { describe, expect, it } from "vitest";
import { NOMINAL_POINT } from "../../src/craft/model.ts";
import { createSensors } from "../../src/flight/sensors.ts";
import { createRandom } from "../../src/math/random.ts";
import { createKernel, ROTORS, stateSize } from "../../src/physics/kernel-layout.ts";
import { plantAt } from "../../src/physics/plant-at.ts";
import { sampleCraft } from "../fixtures/craft.ts";

const HOVER = 500;
const SAMPLES = 100;

/** 100 readings at 100 Hz of a still craft whose first rotor alone turns, at a whole number of Hz. */
function lineOf(hz: number, lowPassHz: number | null) {
	const base = sampleCraft();
	const craft = sampleCraft({
		timing: { ...base.timing, gyro: { periodUs: 10000, phaseUs: 0 } },
		sensors: {
			...base.sensors,
			gyroLowPassHz: lowPassHz,
			gyroNoiseRadPerSecPerRootHz: 0,
			vibrationRadPerSec: 0.02,
		},
	});
	const kernel = createKernel(plantAt(craft, NOMINAL_POINT), craft.sensors);
	const sensors = createSensors(craft, kernel, HOVER, createRandom(4, 2), true, false);
	const x = new Float64Array(stateSize(4));
	x[6] = 1;
	x[ROTORS] = 2 * Math.PI * hz;
	// The momentum that keeps the body itself at rest.
	x[12] = kernel.p[23 + 14]! * x[ROTORS]!;
	const out = new Float64Array(3);
	const axes = [0, 1, 2].map(() => new Float64Array(SAMPLES));
	for (let k = 0; k < SAMPLES; k++) {
		sensors.gyro(x, out, 0);
		for (const i of [0, 1, 2]) axes[i]![k] = out[i]!;
	}
	return axes;
}

/** Amplitude and phase (radians) of the sine in bin `bin` of a record: its discrete Fourier transform, as 1 Hz bins. */
function toneAt(record: Float64Array, bin: number) {
	let re = 0;
	let im = 0;
	record.forEach((v, k) => {
		re += v * Math.cos((2 * Math.PI * bin * k) / SAMPLES);
		im -= v * Math.sin((2 * Math.PI * bin * k) / SAMPLES);
	});
	return { size: (2 * Math.hypot(re, im)) / SAMPLES, phase: Math.atan2(im, re) };
}

describe("a rotor's vibration line", () => {
	it.each([
		[21, null, 21],
		[79, null, 21],
		[121, null, 21],
		[130, null, 30],
		[79, 98, 21],
		[130, 40, 30],
	])(
		"at %d Hz behind a low-pass of %s Hz shows at %d Hz in 100 Hz readings, growing as speed squared",
		(hz, lowPass, bin) => {
			const w = 2 * Math.PI * hz;
			const gain = lowPass === null ? 1 : 1 / Math.sqrt(1 + (hz / lowPass) ** 2);
			for (const record of lineOf(hz, lowPass)) {
				expect(toneAt(record, bin).size / (0.02 * (w / HOVER) ** 2 * gain)).toBeCloseTo(1, 9);
				for (let other = 1; other < 50; other++)
					if (other !== bin) expect(toneAt(record, other).size).toBeLessThan(1e-11);
			}
		},
	);
	it("is a third of a turn apart between the axes", () => {
		const [roll, pitch, yaw] = lineOf(21, null).map((record) => toneAt(record, 21).phase);
		const third = (2 * Math.PI) / 3;
		expect(Math.cos(pitch! - roll! - third)).toBeCloseTo(1, 12);
		expect(Math.cos(yaw! - pitch! - third)).toBeCloseTo(1, 12);
	});
});
