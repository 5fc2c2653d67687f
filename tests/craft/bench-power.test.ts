import { describe, expect, it } from "vitest";
import type { BenchPoint, CraftInput } from "../../src/craft/input.ts";
import { resolveCraft } from "../../src/craft/resolve.ts";

/**
 * Worked by hand: kT = 2e-5, kQ = 3e-7. Four rotors carry 4 x 5 N. At 300, 500 and 700 rad/s thrust is 1.8, 5 and 9.8 N,
 * torque 0.027, 0.075 and 0.147 N m, shaft power 8.1, 37.5 and 102.9 W.
 */
const TABLE: readonly BenchPoint[] = [
	{ command: 0.2, thrust: 1.8, speed: 300, torque: 0.027, voltage: 16, current: 0.9 },
	{ command: 0.5, thrust: 5, speed: 500, torque: 0.075, voltage: 15, current: 3.125 },
	{ command: 1, thrust: 9.8, speed: 700, torque: 0.147, voltage: 14, current: 11.484375 },
];
const craft = (bench: readonly BenchPoint[], motors: CraftInput["motors"] = {}, more: CraftInput = {}) =>
	resolveCraft({
		mass: 20 / 9.80665,
		wheelbase: 0.45,
		propeller: { diameter: 0.254 },
		motors: { measuredVoltage: 15, ...motors, bench },
		timing: { loop: 0.002 },
		...more,
	});
const without = (...keys: (keyof BenchPoint)[]): BenchPoint[] =>
	TABLE.map(
		(p) =>
			Object.fromEntries(
				Object.entries(p).filter(([key]) => !keys.includes(key as keyof BenchPoint)),
			) as never,
	);

describe("the electrical side of a bench table", () => {
	it("gives 80 % in hover and 64 % at full as their geometric mean, and says by how much each is missed", () => {
		const { craft: built, notes } = craft(TABLE);
		expect(built!.propulsion.torqueCoefficient).toBeCloseTo(3e-7, 18);
		expect(built!.battery.efficiency).toBeCloseTo(Math.sqrt(0.8 * 0.64), 12);
		const said = notes.assumed.find((each) => each.path === "craft.battery.efficiency")!;
		expect(said.value).toBe("71.55 %");
		expect(said.because).toMatch(
			/80 % at hover thrust, 64 % at its last point.*11.8 % too high in hover.*low at full/,
		);
	});

	it("draws the table's own current at a point where the efficiency is the same everywhere", () => {
		const even = TABLE.map((p) => ({ ...p, current: (p.torque! * p.speed!) / (0.75 * p.voltage!) }));
		const { craft: built } = craft(even);
		const { battery, propulsion } = built!;
		for (const p of even) {
			const watt = (propulsion.torqueCoefficient * p.speed! ** 3) / battery.efficiency;
			expect(watt / p.voltage!).toBeCloseTo(p.current, 10);
		}
	});

	it("stands between its points where none is at hover thrust", () => {
		const { notes } = craft(TABLE, {}, { mass: (4 * 7.4) / 9.80665 });
		expect(notes.assumed.find((each) => each.path === "craft.battery.efficiency")!.because).toMatch(
			/72 % at hover thrust/,
		);
	});

	it("takes speed from thrust where it was not measured, torque and power with it", () => {
		const { craft: built } = craft(without("speed"), { thrustCoefficient: 2e-5 });
		expect(built!.propulsion.torqueCoefficient).toBeCloseTo(3e-7, 18);
		expect(built!.battery.efficiency).toBeCloseTo(Math.sqrt(0.8 * 0.64), 12);
	});

	it("takes the voltage given once for all, and asks for it where there is none", () => {
		const { craft: built } = craft(without("voltage"));
		expect(built!.battery.efficiency).toBeCloseTo(
			Math.sqrt((37.5 / (15 * 3.125)) * (102.9 / (15 * 11.484375))),
			12,
		);
		const { notes } = craft(without("voltage"), { measuredVoltage: undefined } as never);
		expect(notes.problems.map((p) => p.path)).toEqual(
			[0, 1, 2].map((i) => `craft.motors.bench[${i}].voltage`),
		);
	});

	it("assumes the efficiency as ever where no current was measured", () => {
		expect(craft(without("current")).craft!.battery.efficiency).toBe(0.72);
	});

	it("refuses what contradicts", () => {
		const paths = (...args: Parameters<typeof craft>) => craft(...args).notes.problems.map((p) => p.path);
		expect(paths(TABLE, { torqueCoefficient: 3e-7 })).toEqual(["craft.motors.torqueCoefficient"]);
		expect(paths(TABLE, {}, { battery: { efficiency: 0.7 } })).toEqual(["craft.battery.efficiency"]);
		const weak = TABLE.map((p) => ({ ...p, current: 0.4 * p.current! }));
		const { notes } = craft(weak);
		expect(notes.problems[0]!.path).toBe("craft.motors.bench[0].current");
		expect(notes.problems[0]!.expected).toBe("more current: 5.76 W in cannot give 8.1 W at the shaft");
		expect(paths([{ ...TABLE[0]!, current: 0 }, ...TABLE.slice(1)])).toEqual([
			"craft.motors.bench[0].current",
		]);
	});
});
