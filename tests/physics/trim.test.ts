import { describe, expect, it } from "vitest";
import { NOMINAL_POINT, type OperatingPoint } from "../../src/craft/model.ts";
import { curveSlope, curveSpeed } from "../../src/craft/speed-curve.ts";
import { step } from "../../src/physics/kernel.ts";
import { createKernel } from "../../src/physics/kernel-layout.ts";
import { plantAt } from "../../src/physics/plant-at.ts";
import { trimAt } from "../../src/physics/trim.ts";
import { sampleCraft } from "../fixtures/craft.ts";

const at = (change: Partial<OperatingPoint>, craft = sampleCraft()) => {
	const point = { ...NOMINAL_POINT, ...change };
	const plant = plantAt(craft, point);
	const result = trimAt(craft, plant, point);
	return { plant, result };
};
const feasible = (change: Partial<OperatingPoint>) => {
	const { plant, result } = at(change);
	if (!result.feasible) throw new Error(result.reason);
	return { plant, trim: result.trim };
};

describe("trim", () => {
	it("carries the weight in hover: 4 kT W^2 = m g, at the speed that command and voltage give", () => {
		const { plant, trim } = feasible({});
		const rotor = plant.rotors[0]!;
		// Ground effect from 1000 m below is still there in the ninth digit.
		expect(4 * rotor.thrustCoefficient * trim.speedsRadPerSec[0]! ** 2).toBeCloseTo(1.9 * 9.80665, 6);
		const speed = (trim.voltageV / 14.8) * curveSpeed(plant.curve, trim.commands[0]!);
		expect(speed).toBeCloseTo(trim.speedsRadPerSec[0]!, 8);
		expect(trim.shaftPowerW).toBeCloseTo(4 * 3.36e-7 * speed ** 3, 8);
	});
	it.each([
		["wind", { windMPerSec: [5, -3, 1] as const }],
		["a load off centre", { load: "heaviest" as const }],
		["half throttle", { throttle: 0.6 }],
		["full throttle", { throttle: "full" as const }],
	])("stands still under the equations of motion: %s", (_, change) => {
		const { plant, trim } = feasible(change);
		const kernel = createKernel(plant);
		const x = trim.state.slice();
		const air = new Float64Array(17);
		const wind: readonly number[] = "windMPerSec" in change ? change.windMPerSec : [0, 0, 0];
		for (let i = 0; i < 9; i++) air[i] = wind[i % 3]!;
		const u = trim.speedsRadPerSec.map((w) => w / trim.voltageV);
		for (let i = 0; i < 1000; i++) step(kernel, x, u, air, new Float64Array(6), 1e-3);
		for (let i = 3; i < 13; i++) expect(Math.abs(x[i]! - trim.state[i]!)).toBeLessThan(1e-7);
		expect(x[2]! - trim.state[2]!).toBeCloseTo(-trim.climbMPerSec, 6);
	});
	it("leans into the wind: north wind component from the south means nose up", () => {
		const { trim } = feasible({ windMPerSec: [5, 0, 0] });
		expect(trim.eulerRad[1]).toBeGreaterThan(0.01);
		expect(Math.abs(trim.eulerRad[0])).toBeLessThan(1e-9);
	});
	it("says why it cannot: weight, battery, lowest spin", () => {
		const reason = (change: Partial<OperatingPoint>, craft = sampleCraft()): string => {
			const { result } = at(change, craft);
			return result.feasible ? "" : result.reason;
		};
		expect(reason({ load: { massKg: 3 } })).toMatch(/full throttle lifts \d+\.\d+ N at .* weighs 48.05 N/);
		const weak = sampleCraft({ battery: { ...sampleCraft().battery, brownOutV: 14.8 } });
		expect(reason({}, weak)).toMatch(/brown-out: 14\.70 V under load, the electronics need 14.80 V/);
		const odd = sampleCraft({ battery: { ...sampleCraft().battery, brownOutV: 15.099999999999998 } });
		expect(reason({}, odd)).toMatch(/the electronics need 15\.10 V$/);
		const eager = sampleCraft({ mixer: { ...sampleCraft().mixer, lowestSpin: 0.7 } });
		expect(reason({}, eager)).toMatch(/front right motor would need 64.4 % command, below lowest spin/);
		// At a hundred times the thrust lowest spin carries more than the weight.
		const { propulsion } = sampleCraft();
		const strong = { ...propulsion, thrustCoefficient: 100 * propulsion.thrustCoefficient };
		const light = reason({}, sampleCraft({ propulsion: strong }));
		expect(light).toMatch(/^it lifts \d+\.\d\d N already at lowest spin, \d+ % command, .* weighs 18\.63 N$/);
		expect(Number(/lifts (\S+) N/.exec(light)![1])).toBeGreaterThan(18.63);
	});
	it("takes a given throttle at zero climb, accelerating, where nothing bounds the climb", () => {
		const base = sampleCraft();
		const craft = sampleCraft({
			propulsion: { ...base.propulsion, inflowCoefficient: 0 },
			airframe: { ...base.airframe, dragAreaM2: [0, 0, 0] },
		});
		const { result } = at({ throttle: "full" }, craft);
		expect(result).toMatchObject({ feasible: true, trim: { steady: false, climbMPerSec: 0 } });
	});
});

describe("the plant at an operating point", () => {
	it("joins the load, scales coefficients with density and corner factors", () => {
		const craft = sampleCraft({ air: { densityKgM3: 0.98 } });
		const plant = plantAt(craft, {
			...NOMINAL_POINT,
			load: "heaviest",
			inertiaFactor: 1.2,
			thrustFactor: 0.9,
			motorLagFactor: 1.5,
			battery: { stateOfCharge: 0.3 },
		});
		expect(plant.massKg).toBeCloseTo(2.2, 12);
		expect(plant.centreOfMassM[2]).toBeCloseTo((0.3 * 0.08) / 2.2, 12);
		// Two bodies 0.08 m apart: reduced mass times distance squared.
		expect(plant.inertiaKgM2[0]).toBeCloseTo(1.2 * (0.022 + 1e-4 + ((1.9 * 0.3) / 2.2) * 0.08 ** 2), 12);
		const rotor = plant.rotors[0]!;
		expect(rotor.thrustCoefficient).toBeCloseTo(1.891e-5 * 0.8 * 0.9, 15);
		expect(rotor.torqueCoefficient).toBeCloseTo(3.36e-7 * 0.8 * 0.9, 17);
		expect(rotor.inflowCoefficient).toBeCloseTo(1.03e-3 * 0.8, 12);
		expect([rotor.tauUpSec, rotor.tauDownSec]).toEqual([0.055 * 1.5, 0.075 * 1.5]);
		expect(plant.openCircuitV).toBeCloseTo(14.65, 12);
	});
});

describe("the speed curve", () => {
	const curve = {
		commands: [0.1, 0.3, 0.6, 1],
		speedsRadPerSec: [100, 350, 600, 700],
		referenceVoltageV: 10,
	};
	it("goes through its points, rises between them, is 0 below the first, runs on with its end slope", () => {
		curve.commands.forEach((c, i) => {
			expect(curveSpeed(curve, c)).toBeCloseTo(curve.speedsRadPerSec[i]!, 10);
		});
		for (let c = 0.1; c < 1; c += 0.01)
			expect(curveSpeed(curve, c + 0.01)).toBeGreaterThan(curveSpeed(curve, c));
		expect(curveSpeed(curve, 0.099)).toBe(0);
		expect(curveSpeed(curve, 1.1) - 700).toBeCloseTo(0.1 * curveSlope(curve, 1), 10);
	});
	it("has the slope that differences show", () => {
		for (const c of [0.15, 0.3001, 0.45, 0.8])
			expect(curveSlope(curve, c)).toBeCloseTo(
				(curveSpeed(curve, c + 1e-6) - curveSpeed(curve, c - 1e-6)) / 2e-6,
				3,
			);
	});
});
