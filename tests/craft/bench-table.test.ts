import { describe, expect, it } from "vitest";
import type { BenchPoint, CraftInput } from "../../src/craft/input.ts";
import { resolveCraft } from "../../src/craft/resolve.ts";

const with_ = (bench: readonly BenchPoint[], motors: CraftInput["motors"] = {}) =>
	resolveCraft({
		mass: 1.2,
		wheelbase: 0.45,
		propeller: { diameter: 0.254 },
		motors: { measuredVoltage: 15, ...motors, bench },
		timing: { loop: 0.002 },
	});

const K = 1.3e-5;
const point = (command: number, speed: number, more: Partial<BenchPoint> = {}): BenchPoint => ({
	command,
	thrust: K * speed * speed,
	speed,
	...more,
});

describe("bench table", () => {
	it("gives back the rotor it was made from", () => {
		const { craft } = with_([point(0, 0), point(0.1, 150), point(0.5, 480), point(1, 760)]);
		expect(craft!.propulsion.thrustCoefficient).toBeCloseTo(K, 15);
		expect(craft!.propulsion.curve).toEqual({
			commands: [0.1, 0.5, 1],
			speedsRadPerSec: [150, 480, 760],
			referenceVoltageV: 15,
		});
	});

	it("brings every point to the reference voltage", () => {
		const { craft } = with_([point(0.1, 150, { voltage: 15 }), point(1, 700, { voltage: 14 })]);
		expect(craft!.propulsion.curve.speedsRadPerSec[1]).toBeCloseTo(750, 10);
	});

	it("without speed keeps the thrust and says what is lost", () => {
		const { craft, notes } = with_([
			{ command: 0.1, thrust: 0.3 },
			{ command: 0.5, thrust: 3 },
			{ command: 1, thrust: 8 },
		]);
		const { thrustCoefficient, curve } = craft!.propulsion;
		expect(thrustCoefficient * curve.speedsRadPerSec[2]! ** 2).toBeCloseTo(8, 12);
		const lost = notes.assumed.find((each) => each.path === "craft.motors.bench[].speed");
		expect(lost!.because).toMatch(/no speed.*drag torque.*gyroscopics/);
	});

	it("goes on straight to full command where it ends early, and says so", () => {
		const { craft, notes } = with_([point(0.1, 150), point(0.8, 640)]);
		expect(craft!.propulsion.curve.commands).toEqual([0.1, 0.8, 1]);
		expect(craft!.propulsion.curve.speedsRadPerSec[2]).toBeCloseTo(780, 9);
		expect(notes.assumed.map((each) => each.path)).toContain("craft.motors.bench");
	});

	it("refuses what cannot be a motor", () => {
		const paths = (bench: readonly BenchPoint[]) => with_(bench).notes.problems.map((p) => p.path);
		expect(paths([point(0.5, 300), point(0.4, 400)])).toEqual(["craft.motors.bench[1].command"]);
		expect(paths([point(0.4, 400), point(0.5, 300)])).toEqual(["craft.motors.bench[1].thrust"]);
		expect(paths([point(0, 0), point(1, 300)])).toEqual(["craft.motors.bench"]);
		expect(paths([point(0.1, 100), { command: 1, thrust: 8, speed: 0 }])).toEqual([
			"craft.motors.bench[1].speed",
		]);
	});
});
