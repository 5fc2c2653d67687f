import { describe, expect, it } from "vitest";
import { createFactors, fixedSet } from "../../src/control/schedule.ts";
import { IN, OUT } from "../../src/control/signals.ts";
import { AXES, type GainSchedule, type GainSet, SCHEDULED_GAINS } from "../../src/control/spec.ts";
import { leastAllocatedBytes } from "../fixtures/allocated-bytes.ts";
import { sampleGains } from "../fixtures/craft.ts";
import { hoveringController, TICK_SEC } from "../fixtures/hovering-controller.ts";

/** Other numbers in every cell, so that none can stand for another. */
const schedule: GainSchedule = {
	link: 0,
	hinge: "boom",
	anglesRad: [0, 0.5, 1.5],
	loadsKg: [0, 0.3],
	factors: Object.fromEntries(
		AXES.map((axis, i) => [
			axis,
			Object.fromEntries(
				SCHEDULED_GAINS.map((gain, k) => [
					gain,
					[0, 1, 2].map((row) =>
						[0, 1].map((column) => 1 + 0.3 * i + 0.07 * k + (row - 1) ** 2 * 0.11 - 0.2 * column * row),
					),
				]),
			),
		]),
	) as unknown as GainSchedule["factors"],
};
const set: GainSet = { ...sampleGains(), schedule };

function factorsAt(angleRad: number, loadKg: number): number[] {
	const factors = createFactors(schedule);
	const input = new Float64Array(IN.length);
	input[IN.limbAngle] = angleRad;
	input[IN.load] = loadKg;
	factors.read(input);
	return Array.from(factors.out);
}
const all = (row: number, column: number): number[] =>
	AXES.flatMap((axis) => SCHEDULED_GAINS.map((gain) => schedule.factors[axis][gain][row]![column]!));

describe("a gain schedule", () => {
	it("gives each breakpoint its own factors, and keeps the ends' beyond them", () => {
		schedule.anglesRad.forEach((angle, row) => {
			schedule.loadsKg.forEach((load, column) => {
				expect(factorsAt(angle, load)).toEqual(all(row, column));
			});
		});
		expect(factorsAt(-1, -1)).toEqual(all(0, 0));
		expect(factorsAt(9, 9)).toEqual(all(2, 1));
	});
	it("goes over between them by 3 t^2 - 2 t^3 (smoothstep, OpenGL Shading Language 4.60 section 8.3, from memory)", () => {
		const smooth = (t: number): number => t * t * (3 - 2 * t);
		const [low, high] = [all(1, 0), all(2, 0)];
		for (const t of [0.1, 0.25, 0.5, 0.9])
			factorsAt(0.5 + t, 0).forEach((value, k) => {
				expect(value).toBeCloseTo(low[k]! + smooth(t) * (high[k]! - low[k]!), 14);
			});
		const [left, right] = [all(1, 0), all(1, 1)];
		factorsAt(0.5, 0.075).forEach((value, k) => {
			expect(value).toBeCloseTo(left[k]! + 0.15625 * (right[k]! - left[k]!), 14);
		});
	});
	it("has no corner at a breakpoint: the slope there is 0 from both sides", () => {
		const h = 1e-5;
		const [before, at, after] = [0.5 - h, 0.5, 0.5 + h].map((angle) => factorsAt(angle, 0.1)) as [
			number[],
			number[],
			number[],
		];
		at.forEach((value, k) => {
			expect(Math.abs(after[k]! - value) / h).toBeLessThan(1e-3);
			expect(Math.abs(value - before[k]!) / h).toBeLessThan(1e-3);
		});
	});
	it("in a set fixed at a point multiplies the set's own gains and nothing else", () => {
		const fixed = fixedSet(set, 0.9, 0.2);
		expect(fixed.schedule).toBeUndefined();
		const factors = factorsAt(0.9, 0.2);
		AXES.forEach((axis, i) => {
			SCHEDULED_GAINS.forEach((gain, k) => {
				expect(fixed[axis][gain]).toBe(set[axis][gain] * factors[4 * i + k]!);
			});
			const { kAngle, kp, ki, kd } = set[axis];
			expect({ ...fixed[axis], kAngle, kp, ki, kd }).toEqual(set[axis]);
		});
	});
});

describe("a controller with a schedule", () => {
	it("ticks as one with the gains fixed there does, and its integral does not jump as they change", () => {
		const moving = hoveringController(set);
		const fixed = hoveringController(fixedSet(set, 1.1, 0.12));
		for (const each of [moving, fixed]) {
			each.input[IN.angle] = 0.05;
			each.input[IN.rate] = -0.1;
			each.input[IN.rate + 2] = 0.07;
		}
		moving.input[IN.limbAngle] = 1.1;
		moving.input[IN.load] = 0.12;
		for (let k = 0; k < 100; k++)
			for (const each of [moving, fixed]) each.controller.tick(each.state, each.input, each.output);
		expect(Array.from(moving.state)).toEqual(Array.from(fixed.state));
		expect(Array.from(moving.output)).toEqual(Array.from(fixed.output));
		const before = moving.output[OUT.integral]!;
		moving.input[IN.limbAngle] = 0;
		moving.controller.tick(moving.state, moving.input, moving.output);
		const fastest = (fixedSet(set, 0, 0.12).roll.ki * 10 + 1) * TICK_SEC;
		expect(before).not.toBe(0);
		expect(Math.abs(moving.output[OUT.integral]! - before)).toBeLessThan(fastest);
	});
	it("allocates nothing while pose and load move", () => {
		const { controller, state, input, output } = hoveringController(set);
		const run = (): void => {
			for (let k = 0; k < 20000; k++) {
				input[IN.limbAngle] = input[IN.limbAngle]! > 1.5 ? 0 : input[IN.limbAngle]! + 1e-4;
				input[IN.load] = input[IN.load]! > 0.3 ? 0 : input[IN.load]! + 1e-5;
				controller.tick(state, input, output);
			}
		};
		run();
		// One boxed number a tick would be 320 kB.
		expect(leastAllocatedBytes(6, run)).toBeLessThan(2000);
	});
});
