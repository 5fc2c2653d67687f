import { expect, test } from "vitest";
import { closeLoop, stepCosts } from "../../src/tuning/step-cost.ts";
import { chainPlant } from "../fixtures/axis-plant.ts";
import { sampleGains } from "../fixtures/craft.ts";

const set = sampleGains();

test("a stride changes the trapezoids only", () => {
	const loop = closeLoop(chainPlant("roll", [13, 0.2], 1500, 0.004, 0.002), set);
	const one = stepCosts(loop, 4, 1);
	const four = stepCosts(loop, 4, 4);
	expect(four.setPoint.iae / one.setPoint.iae).toBeCloseTo(1, 3);
	expect(four.torque.iae / one.torque.iae).toBeCloseTo(1, 3);
});

test("a response faster than a stride is still counted", () => {
	// Rate of a yaw loop with crossover near 400 rad/s, ticks of 0.5 ms, strides of 10.
	const quick = { ...set.yaw, kp: 0.35, ki: 1.9 };
	const loop = closeLoop(chainPlant("yaw", [2000, 0], 2.3e6, 0, 0.0005), { ...set, yaw: quick });
	const one = stepCosts(loop, 1, 1);
	const ten = stepCosts(loop, 1, 10);
	expect(one.setPoint.iae).toBeLessThan(0.005);
	expect(ten.setPoint.iae / one.setPoint.iae).toBeCloseTo(1, 2);
	expect(ten.torque.iae / one.torque.iae).toBeCloseTo(1, 2);
});

test("without overshoot IAE is |IE|: u over ki k_angle after a torque step, step over k_angle after a set-point step", () => {
	const gentle = { ...set.roll, kAngle: 1.5, ki: 0.03 };
	const loop = closeLoop(chainPlant("roll", [20, 0], 1500, 0, 0.002), { ...set, roll: gentle });
	const { torque, setPoint } = stepCosts(loop, 60, 1);
	expect(torque.iae).toBeCloseTo(1 / (gentle.ki * gentle.kAngle), 2);
	// Trapezoids halve the first tick.
	expect(setPoint.iae).toBeCloseTo(1 / gentle.kAngle - 0.001, 5);
	expect(setPoint.overshoot).toBeLessThan(1e-3);
});

test("a horizon that cuts a slow tail is closed by the integral of error", () => {
	const gentle = { ...set.roll, kAngle: 1.5, ki: 0.03 };
	const loop = closeLoop(chainPlant("roll", [20, 0], 1500, 0, 0.002), { ...set, roll: gentle });
	const short = stepCosts(loop, 3, 1);
	const long = stepCosts(loop, 60, 1);
	expect(short.torque.iae / long.torque.iae).toBeCloseTo(1, 2);
});

test("an unstable loop costs without end", () => {
	const wild = { ...set.roll, kp: 5 };
	const loop = closeLoop(chainPlant("roll", [13, 0.2], 1500, 0.02, 0.002), { ...set, roll: wild });
	expect(stepCosts(loop, 10, 1).setPoint.iae).toBe(Infinity);
});
