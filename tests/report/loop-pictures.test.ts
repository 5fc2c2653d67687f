import { expect, test } from "vitest";
import { analyseScalarLoop } from "../../src/analysis/scalar-loop.ts";
import { bodePicture, nyquistPicture, sampleLoop } from "../../src/report/loop-pictures.ts";

/** L = K e^(-s tau) / s: crossover at K, phase margin pi/2 - K tau, phase crossing at pi/(2 tau). */
const [gain, tau] = [8, 0.05];
const respond = (omega: number, out: Float64Array): void => {
	out[0] = (-gain / omega) * Math.sin(omega * tau);
	out[1] = (-gain / omega) * Math.cos(omega * tau);
};
const result = analyseScalarLoop({
	respond,
	lowestRadPerSec: 0.01,
	highestRadPerSec: 1000,
	stable: true,
	atZero: "infinite",
	delaySec: tau,
});
const drawn = [{ letter: "B", name: "set B", samples: sampleLoop(respond, [0.1, 200]), result }];

test.each([
	["bode", bodePicture({ title: "t", invented: false }, drawn)],
	["nyquist", nyquistPicture({ title: "t", invented: false }, drawn, null)],
])(
	"%s carries the margins that were found, with their frequencies (closed form of a delayed integrator)",
	(_, picture) => {
		const found = new Map(picture.numbers!.map((each) => [each.what, each]));
		const phase = found.get("phase margin")!;
		expect(phase.of).toBe("B");
		expect(phase.value).toBeCloseTo(90 - (gain * tau * 180) / Math.PI, 6);
		expect(phase.where).toBe(`${(gain / (2 * Math.PI)).toFixed(2)} Hz`);
		const up = found.get("gain may rise by")!;
		expect(up.value).toBeCloseTo(20 * Math.log10(Math.PI / 2 / (gain * tau)), 6);
		expect(up.where).toBe(`${(1 / (4 * tau)).toFixed(2)} Hz`);
		expect(found.get("crossover")!.value).toBeCloseTo(gain / (2 * Math.PI), 6);
		expect(found.get("delay margin")!.value).toBeCloseTo(1000 * (Math.PI / 2 / gain - tau), 5);
		const down = found.get("gain may fall by")!;
		expect(down.value).toBeNull();
		expect(down.where).not.toBe("");
	},
);
