import { describe, expect, it } from "vitest";
import { nominalCellV } from "../../src/craft/battery.ts";
import type { CraftInput } from "../../src/craft/input.ts";
import { isPossibleInertia } from "../../src/craft/mass-from-input.ts";
import { resolveCraft } from "../../src/craft/resolve.ts";

const TEN: CraftInput = {
	mass: 1.2,
	wheelbase: 0.45,
	propeller: { diameter: 0.254 },
	motors: { maxThrust: 8, lag: 0.05 },
	timing: { loop: 0.002 },
};
const craftOf = (change: CraftInput = {}) => {
	const { craft, notes } = resolveCraft({ ...TEN, ...change });
	if (craft === null) throw new Error(JSON.stringify(notes.problems));
	return craft;
};

describe("resolveCraft", () => {
	it("from kT and full speed, from thrust and full speed, from thrust and CT: the same rotor", () => {
		const byBoth = craftOf({ motors: { maxThrust: 8, maxSpeed: 780 } }).propulsion;
		const byCoefficient = craftOf({ motors: { thrustCoefficient: 8 / 780 ** 2, maxSpeed: 780 } }).propulsion;
		expect(byCoefficient.curve).toEqual(byBoth.curve);
		expect(byCoefficient.torqueCoefficient).toBeCloseTo(byBoth.torqueCoefficient, 20);
		const ct = (8 / 780 ** 2) * ((2 * Math.PI) ** 2 / (1.225 * 0.254 ** 4));
		const byNumber = craftOf({ motors: { maxThrust: 8 }, propeller: { diameter: 0.254, thrustNumber: ct } });
		expect(byNumber.propulsion.curve.speedsRadPerSec[1]).toBeCloseTo(780, 8);
	});

	it("takes kQ from the power coefficient where one is given: P = CP rho n^3 D^5", () => {
		const { propulsion } = craftOf({ propeller: { diameter: 0.254, powerNumber: 0.04 } });
		const n = 100;
		const power = propulsion.torqueCoefficient * (2 * Math.PI * n) ** 3;
		expect(power).toBeCloseTo(0.04 * 1.225 * n ** 3 * 0.254 ** 5, 9);
	});

	it("refuses three numbers that contradict each other", () => {
		const { notes } = resolveCraft({
			...TEN,
			motors: { maxThrust: 8, maxSpeed: 780, thrustCoefficient: 2e-5 },
		});
		expect(notes.problems[0]!.path).toBe("craft.motors.thrustCoefficient");
	});

	it("reads the gyro just before the tick, sends commands just after it", () => {
		const { timing } = craftOf({ timing: { loop: 0.004, compute: 0.0005, gyro: { bus: 0.0006 } } });
		expect(timing.gyro).toEqual({ periodUs: 4000, phaseUs: 3400 });
		expect(timing.escFrame).toEqual({ periodUs: 4000, phaseUs: 500 });
	});

	it("leaves clocks that are not the loop's free", () => {
		const { timing } = craftOf({ timing: { loop: 0.001, gyro: { period: 0.0005 } } });
		expect(timing.gyro.phaseUs).toBe("free");
		expect(timing.escFrame).toEqual({ periodUs: 2500, phaseUs: "free" });
	});

	it("scales nominal volts with the table", () => {
		expect(nominalCellV(undefined)).toBe(3.82);
		expect(nominalCellV({ nominal: 0.25 })).toBeCloseTo(3.75, 12);
		expect(
			nominalCellV({
				openCircuit: [
					{ charge: 0, cellVoltage: 3 },
					{ charge: 1, cellVoltage: 4 },
				],
			}),
		).toBe(3.5);
	});

	it("hovers for about 12 minutes down to 20 % on its default battery", () => {
		const { battery, propulsion: p, bare } = craftOf();
		const speed = Math.sqrt((bare.massKg * 9.80665) / (4 * p.thrustCoefficient));
		const watt = (4 * p.torqueCoefficient * speed ** 3) / battery.efficiency;
		const minutes = (0.8 * battery.capacityAmpereHours * 4 * 3.82 * 60) / watt;
		expect(minutes).toBeGreaterThan(11);
		expect(minutes).toBeLessThan(13);
	});

	it("takes a bound as it is and a standard deviation twice", () => {
		const { uncertainty } = craftOf({
			uncertainty: { inertia: 0.07, thrust: { plusMinus: 0.06 }, motorLag: { standardDeviation: 0.15 } },
		});
		expect(uncertainty).toEqual({ inertia: 0.07, thrust: 0.06, motorLag: 0.3 });
	});

	it("says which line of the parts list gives what", () => {
		const parts = [
			{ name: "battery", shape: "box", mass: 0.5, size: [0.1, 0.05, 0.04], position: [0.02, 0, -0.01] },
			{
				name: "motor",
				shape: "point",
				mass: 0.15,
				at: [
					[0.2, 0.1, 0],
					[-0.2, 0.1, 0],
					[-0.2, -0.1, 0],
					[0.2, -0.1, 0],
				],
			},
		] as const;
		const sum = (values: readonly number[]) => values.reduce((a, b) => a + b, 0);
		for (const mass of [1.1, 1.11]) {
			const { craft, massOrigin } = resolveCraft({ ...TEN, parts, mass });
			const { bare } = craft!;
			expect(massOrigin).toMatchObject({ mass: "given", centreOfMass: "parts", inertia: "parts" });
			expect(massOrigin.shares.map((s) => [s.name, s.count])).toEqual([
				["battery", 1],
				["motor", 4],
			]);
			expect(sum(massOrigin.shares.map((s) => s.massKg))).toBeCloseTo(bare.massKg, 12);
			expect(sum(massOrigin.shares.map((s) => s.momentKgM[0])) / bare.massKg).toBeCloseTo(
				bare.centreOfMassM[0],
				12,
			);
			for (const i of [0, 4, 8, 2] as const)
				expect(sum(massOrigin.shares.map((s) => s.inertiaKgM2[i]))).toBeCloseTo(bare.inertiaKgM2[i], 14);
		}
		expect(resolveCraft(TEN).massOrigin).toEqual({
			mass: "given",
			centreOfMass: "assumed",
			inertia: "rule",
			shares: [],
			partsScale: 1,
		});
	});

	it("never throws, and says what is missing", () => {
		const { craft, notes } = resolveCraft({});
		expect(craft).toBeNull();
		expect(notes.problems.map((p) => p.path).sort()).toEqual([
			"craft.mass",
			"craft.propeller.diameter",
			"craft.timing.loop",
			"craft.wheelbase",
		]);
	});
});

describe("isPossibleInertia", () => {
	it("takes what bodies have and refuses what none has", () => {
		expect(isPossibleInertia([1, 0, 0, 0, 1, 0, 0, 0, 2])).toBe(true);
		expect(isPossibleInertia([1, 0, 0, 0, 1, 0, 0, 0, 2.01])).toBe(false);
		expect(isPossibleInertia([1, 0.9, 0, 0.9, 1, 0, 0, 0, 1.2])).toBe(false);
		expect(isPossibleInertia([0, 0, 0, 0, 0, 0, 0, 0, 0])).toBe(false);
		expect(isPossibleInertia([1, 0, 0, 0, -1, 0, 0, 0, 1])).toBe(false);
	});
});
