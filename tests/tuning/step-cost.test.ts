import { expect, test } from "vitest";
import { type ClosedLoop, closeLoop } from "../../src/analysis/closed-loop.ts";
import { stepCosts } from "../../src/tuning/step-cost.ts";
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

test.each([
	["mostly shift registers", 0.031, 3],
	["mostly shift registers, long strides", 0.031, 21],
	["no delay", 0, 2],
	["no delay, strides that are squared", 0, 14],
])("trapezoids are those of the states stepped tick by tick: %s", (_, delay, stride) => {
	const loop = closeLoop(chainPlant("roll", [13, 0.2], 300, delay, 0.002), set);
	const strides = 31;
	const { setPoint, torque } = stepCosts(loop, strides * stride * 0.002, stride);
	for (const [b, target, found] of [
		[loop.bSetPoint, 1, setPoint],
		[loop.bTorque, 0, torque],
	] as const) {
		const errors = played(loop, b, strides * stride).map((y) => target - y);
		// Every tick of the first eight strides, then every stride.
		const kept = errors.flatMap((_, k) => (k <= 8 * stride || k % stride === 0 ? [k] : []));
		let iae = 0;
		let ie = 0;
		kept.slice(1).forEach((k, i) => {
			const h = 0.002 * (k - kept[i]!);
			iae += (h * (Math.abs(errors[k]!) + Math.abs(errors[kept[i]!]!))) / 2;
			ie += (h * (errors[k]! + errors[kept[i]!]!)) / 2;
		});
		// The whole integral of error from a run long enough to settle, less the half tick that trapezoids take off.
		// `stepCosts` discounts it by 1e-9 a tick, a few parts in a million over some thousand ticks.
		const whole = played(loop, b, 60_000).reduce((sum, y) => sum + target - y, -target / 2) * 0.002;
		expect(found.iae / (iae + Math.abs(whole - ie))).toBeCloseTo(1, 5);
		expect(found.peak).toBeCloseTo(Math.max(target, ...kept.map((k) => Math.abs(errors[k]!))), 9);
	}
});

/** Outputs at ticks 0, 1 .. of a unit step held from rest. */
function played({ order: n, a, output }: ClosedLoop, b: Float64Array, ticks: number): number[] {
	let x = new Float64Array(n);
	const list: number[] = [];
	for (let k = 0; k <= ticks; k++) {
		let y = 0;
		const next = b.slice();
		for (let i = 0; i < n; i++) {
			y += output[i]! * x[i]!;
			for (let j = 0; j < n; j++) next[i]! += a[i * n + j]! * x[j]!;
		}
		list.push(y);
		x = next;
	}
	return list;
}
