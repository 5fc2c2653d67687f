import { beforeAll, expect, test } from "vitest";
import { corners } from "../../src/analysis/corners.ts";
import { marginsReport } from "../../src/analysis/margins-report.ts";
import { AXES } from "../../src/control/spec.ts";
import type { Craft } from "../../src/craft/model.ts";
import { CHARACTERS, limitsOf } from "../../src/tuning/characters.ts";
import type { TuneResult } from "../../src/tuning/result.ts";
import { tune } from "../../src/tuning/tune.ts";
import { sampleCraft } from "../fixtures/craft.ts";

/** No load, so that fewer corners serve. */
const craft: Craft = sampleCraft({
	load: { massKg: 0, positionM: [0, 0, 0], inertiaKgM2: [0, 0, 0, 0, 0, 0, 0, 0, 0] },
});
/** The two extremes, sluggish and quick, at every battery and throttle. */
const some = corners(craft).filter(
	({ point }) =>
		point.inertiaFactor > 1 === point.thrustFactor < 1 &&
		point.inertiaFactor > 1 === point.motorLagFactor > 1,
);
let even: TuneResult;
beforeAll(() => {
	even = tune(craft, { character: "even", corners: some, alternatives: false });
});

test("every limit holds in the binding corners by the full analysis, and some limit is met", () => {
	expect(even.feasible).toBe(true);
	const names = new Set(even.binding.map((b) => b.corner));
	const limits = limitsOf("even");
	for (const axis of AXES) expect(even.binding.some((b) => b.axis === axis)).toBe(true);
	for (const { name, point } of some.filter((c) => names.has(c.name)).slice(0, 3)) {
		const found = marginsReport(craft, even.gainSet!, point);
		if (!found.feasible) throw new Error(found.reason);
		for (const axis of AXES) {
			const { rateLoop, angleLoop, wholeAxis } = found.report.axes[axis];
			for (const loop of [rateLoop, angleLoop, wholeAxis]) {
				if (!loop) continue;
				expect(loop.stable, `${axis} in ${name}`).toBe(true);
				expect(loop.ms.value!).toBeLessThan(limits.ms * 1.002);
				expect(loop.phaseMarginDeg.value ?? 180).toBeGreaterThan(limits.phaseMarginDeg * 0.998);
				expect(loop.gainMarginUpDb.value ?? 99).toBeGreaterThan(limits.gainMarginUpDb * 0.998);
				expect(loop.gainMarginDownDb.value ?? 99).toBeGreaterThan(limits.gainMarginDownDb * 0.998);
				expect(loop.delayMarginSec.value ?? 9).toBeGreaterThan(0.002);
			}
			if (angleLoop) expect(angleLoop.mt.value!).toBeLessThan(limits.mt * 1.002);
			const periodic = found.report.periodic.axes[axis].wholeAxis;
			if (periodic) expect(periodic.gainMarginUpDb.value ?? 99).toBeGreaterThan(limits.gainMarginUpDb * 0.99);
			const gains = even.gains[axis]!;
			const crossover = rateLoop.crossoverRadPerSec.value!;
			if (axis === "yaw") continue;
			expect(gains.ki / gains.kp).toBeLessThan((crossover / limits.crossoverPerIntegral) * 1.002);
			expect(gains.kAngle!).toBeLessThan((crossover / limits.crossoverPerAngle) * 1.002);
		}
	}
});

test("the same craft gives the same bytes", () => {
	const again = tune(craft, { character: "even", corners: some, alternatives: false });
	expect(JSON.stringify(again)).toBe(JSON.stringify(even));
});

test("a tighter character never has a better objective", () => {
	const [gentle, , lively] = CHARACTERS.map((character) =>
		character === "even" ? even : tune(craft, { character, corners: some, alternatives: false }),
	);
	for (const axis of AXES) {
		expect(gentle!.objective[axis]!).toBeGreaterThan(even.objective[axis]!);
		expect(even.objective[axis]!).toBeGreaterThan(lively!.objective[axis]!);
	}
});

test("a practitioner would not be surprised: a 1.9 kg quad, 520 mm", () => {
	for (const axis of ["roll", "pitch"] as const) {
		const { gains, integralRatio, crossoverRange, worst } = even.axes[axis];
		// Common practice, no source: tilt corrected in a quarter of a second, the integral slower than the tilt.
		expect(gains!.kAngle!).toBeGreaterThan(3);
		expect(gains!.kAngle!).toBeLessThan(10);
		expect(integralRatio!).toBeLessThan(gains!.kAngle!);
		expect(crossoverRange![0]).toBeGreaterThan(10);
		expect(gains!.kd / gains!.kp).toBeLessThan(0.1);
		expect(worst!.overshootPct).toBeLessThan(15);
	}
	const { roll, yaw } = even.gainSet!;
	expect(roll.outputLimit).toBeGreaterThan(yaw.outputLimit);
	expect(roll.integralLimit).toBe(roll.outputLimit / 2);
	expect(even.gains.yaw!.kAngle).toBeNull();
	expect(even.gains.yaw!.kd).toBe(0);
});

test("a craft that cannot keep the limits says which, where and by how much, and what would help", () => {
	// Ms 1.02 leaves next to no feedback.
	const result = tune(craft, {
		character: "gentle",
		limits: { ms: 1.02 },
		corners: some.slice(0, 2),
	});
	expect(result.feasible).toBe(false);
	expect(result.gainSet).toBeNull();
	expect(result.gains.roll).toBeNull();
	expect(result.axes.roll.why).toMatch(
		/^roll: no gains keep every limit .* miss by [\d.e+]+ %: .*Ms [\d.]+, limit 1.02/,
	);
	expect(result.axes.roll.objective).toBeNull();
});

test("limits that only an integral next to none can keep are said to be so, not to be missed", () => {
	const { axes } = tune(craft, {
		character: "even",
		limits: { crossoverPerIntegral: 1e5 },
		corners: some.slice(0, 1),
		alternatives: false,
	});
	for (const axis of AXES) {
		expect(axes[axis].feasible).toBe(false);
		expect(axes[axis].why).toMatch(
			new RegExp(
				`^${axis}: the gains that come nearest \\(.*ki [\\d.e-]+, .*\\) keep every limit only with an integral too weak`,
			),
		);
	}
});
