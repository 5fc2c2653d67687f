import { expect, test } from "vitest";
import { axisLoops } from "../../src/analysis/axis-loops.ts";
import { closeLoop, polesOutside } from "../../src/analysis/closed-loop.ts";
import { corners } from "../../src/analysis/corners.ts";
import { analyseScalarLoop } from "../../src/analysis/scalar-loop.ts";
import { createRandom } from "../../src/math/random.ts";
import { limitsOf } from "../../src/tuning/characters.ts";
import { axisProblemOf, craftModel } from "../../src/tuning/craft-problem.ts";
import { createLoopTest, type Gains4, testLimits, testLoop } from "../../src/tuning/loop-test.ts";
import { setOf } from "../../src/tuning/problem.ts";
import { violation } from "../../src/tuning/violation.ts";
import { sampleCraft } from "../fixtures/craft.ts";

const craft = sampleCraft();
const some = corners(craft).filter((_, i) => i % 13 === 0);
const model = craftModel(craft, some);
const problem = axisProblemOf(model, "roll", {
	limits: limitsOf("even"),
	filters: [],
	yawDerivative: false,
	pointsPerDecade: 200,
});

function randomGains(random: ReturnType<typeof createRandom>, spread = 30): Gains4 {
	const kp = 0.02 * spread ** random.uniform();
	return [1 + 10 * random.uniform(), kp, kp * 0.3 * 30 ** random.uniform(), kp * 0.06 * random.uniform()];
}

test("stability agrees with the poles of the closed loop on random gains", () => {
	const random = createRandom(5);
	const test = createLoopTest();
	let stable = 0;
	let unstable = 0;
	for (let i = 0; i < 120; i++) {
		const gains = randomGains(random, 300);
		const table = problem.tables[i % problem.tables.length]!;
		testLoop(table, gains, null, test);
		const outside = polesOutside(closeLoop(table.plant, setOf(problem, gains)));
		// The rate loop must be stable by itself too, which the poles of the whole do not say.
		if (outside > 0) {
			unstable++;
			expect(test.stable).toBe(false);
		} else if (test.ms[0]! < 5 && test.ms[2]! < 5) {
			stable++;
			expect(test.stable).toBe(true);
		}
	}
	expect(stable).toBeGreaterThan(20);
	expect(unstable).toBeGreaterThan(10);
});

test("margins equal the full analysis of the same loops", () => {
	const random = createRandom(11);
	const test = createLoopTest();
	const db = (gain: number): number => 20 * Math.log10(gain);
	let compared = 0;
	for (let i = 0; i < 40; i++) {
		const gains = randomGains(random);
		const table = problem.tables[i % problem.tables.length]!;
		if (!testLoop(table, gains, null, test)) continue;
		const loops = axisLoops(table.plant, setOf(problem, gains));
		for (const [o, respond] of [loops.rate!, loops.angle!, loops.whole!].entries()) {
			const full = analyseScalarLoop({
				respond,
				lowestRadPerSec: table.omega[0]!,
				highestRadPerSec: Math.PI / table.plant.periodSec,
				periodSec: table.plant.periodSec,
				stable: true,
			});
			// Peaks sharper than any limit lie between two of the grid's points.
			if (full.ms.value! > 4 || full.mt.value! > 4) continue;
			expect(test.ms[o]! / full.ms.value!).toBeCloseTo(1, 2);
			expect(test.mt[o]! / full.mt.value!).toBeCloseTo(1, 2);
			if (full.phaseMarginDeg.value !== null)
				expect((180 / Math.PI) * test.phaseMarginRad[o]!).toBeCloseTo(full.phaseMarginDeg.value, 1);
			if (full.gainMarginUpDb.value !== null)
				expect(db(test.gainUp[o]!)).toBeCloseTo(full.gainMarginUpDb.value, 1);
			// Farther down the crossing lies at the lowest frequencies of the grid and limits nothing.
			if (full.gainMarginDownDb.value !== null && full.gainMarginDownDb.value < 40)
				expect(-db(test.gainDown[o]!)).toBeCloseTo(full.gainMarginDownDb.value, 1);
			if (full.delayMarginSec.value !== null)
				expect(1e3 * test.delaySec[o]!).toBeCloseTo(1e3 * full.delayMarginSec.value, 1);
			if (full.crossoverRadPerSec.value !== null)
				expect(test.crossover[o]! / full.crossoverRadPerSec.value).toBeCloseTo(1, 3);
			compared++;
		}
	}
	expect(compared).toBeGreaterThan(40);
});

test("ending early at the first broken limit gives the same verdict as measuring everything", () => {
	const random = createRandom(3);
	const limits = limitsOf("lively", { ms: 2.5, phaseMarginDeg: 25 });
	const quick = createLoopTest();
	const slow = createLoopTest();
	let kept = 0;
	for (let i = 0; i < 300; i++) {
		const gains = randomGains(random);
		const table = problem.tables[i % problem.tables.length]!;
		const verdict = testLoop(table, gains, testLimits(limits), quick);
		testLoop(table, gains, null, slow);
		expect(verdict).toBe(violation(slow, table, gains, limits, { share: 0 }).missed <= 0);
		if (verdict) kept++;
		else expect(quick.broken).not.toBe("");
	}
	expect(kept).toBeGreaterThan(5);
});

test("noise reaches u as the closed loop's own spectrum says", () => {
	// Pure P on a plant so slow that the loop does nothing: the RMS of u is kp times that of the samples.
	const test = createLoopTest();
	const kp = 1e-6;
	testLoop(problem.tables[0]!, [0, kp, 0, 0], null, test);
	const { gyroNoiseRadPerSecPerRootHz: density, gyroLowPassHz: cutoff } = craft.sensors;
	// White noise through a first-order low-pass: density^2 times cutoff times pi/2.
	const rms = density * Math.sqrt((Math.PI / 2) * cutoff!);
	expect(test.noiseRms / (kp * rms)).toBeGreaterThan(0.97);
	expect(test.noiseRms / (kp * rms)).toBeLessThan(1.01);
});
