import { describe, expect, it } from "vitest";
import type { Craft } from "../../src/craft/model.ts";
import { NOMINAL_POINT } from "../../src/craft/model.ts";
import { derivative } from "../../src/physics/kernel.ts";
import { batteryVoltage, WORK_BROWN_OUT } from "../../src/physics/kernel-layout.ts";
import type { Plant } from "../../src/physics/plant.ts";
import { plantAt } from "../../src/physics/plant-at.ts";
import { trimAt } from "../../src/physics/trim.ts";
import { sampleCraft } from "../fixtures/craft.ts";
import { bodyOf, samplePlant } from "../fixtures/plant.ts";

/** Level at a hub height, moving at a velocity, all rotors at one speed: dx/dt. */
function rates(plant: Plant, hubHeightM: number, velocity: readonly [number, number, number], speed: number) {
	const body = bodyOf(plant, [0, 0, 0], [speed, speed, speed, speed]);
	body.x[2] = -hubHeightM + plant.centreOfMassM[2] - plant.rotors[0]!.positionM[2];
	body.x.set(velocity, 3);
	const dx = new Float64Array(body.x.length);
	derivative(body.kernel, body.x, body.u, body.air, body.outside, dx);
	return { dx, body };
}
const quiet = (change: Partial<Plant> = {}): Plant => samplePlant({ dragAreaM2: [0, 0, 0], ...change });
const without = (plant: Plant, change: Partial<Plant["rotors"][number]>): Plant => ({
	...plant,
	rotors: plant.rotors.map((r) => ({ ...r, ...change })),
});

describe("ground effect: Cheeseman and Bennett, ARC R&M 3021, 1955", () => {
	const plant = quiet();
	const r = plant.rotors[0]!.radiusM;
	const lift = (height: number, sideways = 0): number => {
		const still = without(plant, { inflowCoefficient: 0, inPlaneDragCoefficient: 0 });
		return plant.gravityMPerSec2 - rates(still, height, [sideways, 0, 0], 500).dx[5]!;
	};
	const far = lift(1e6);
	it.each([
		[1, 1.06666667],
		[2, 1.01587302],
		[0.5, 1.33333333],
		[0.2, 1.33333333],
	])("multiplies thrust at z/R = %f by %f", (ratio, factor) => {
		expect(lift(ratio * r) / far).toBeCloseTo(factor, 7);
	});
	it.each([
		[1, 1, 1 / (1 - 1 / 32)],
		[1, 2, 1 / (1 - 1 / 80)],
		[0.5, 1, 8 / 7],
		[0.5, 0.5, 1.25],
		[2, 3, 640 / 639],
		[0.2, Math.sqrt(3), 16 / 15],
	])(
		"fades as (R/4z)^2/(1 + (V/vh)^2): z/R = %f, V/vh = %f gives %f; vh from momentum theory",
		(ratio, share, factor) => {
			const thrust = plant.rotors[0]!.thrustCoefficient * 500 ** 2;
			const induced = Math.sqrt(thrust / (2 * 1.225 * Math.PI * r * r));
			expect(lift(ratio * r, share * induced) / far).toBeCloseTo(factor, 9);
		},
	);
});

describe("rotor forces", () => {
	const plant = { ...quiet(), groundEffect: false };
	it("loses thrust by kI W v in a climb and never pulls down", () => {
		const { dx: still } = rates(plant, 50, [0, 0, 0], 500);
		const { dx: climbing } = rates(plant, 50, [0, 0, -2], 500);
		const perRotor = plant.rotors[0]!.inflowCoefficient * 500 * 2;
		expect(climbing[5]! - still[5]!).toBeCloseTo((4 * perRotor) / plant.massKg, 10);
		const { dx: fast } = rates(plant, 50, [0, 0, -100], 500);
		expect(fast[5]).toBeCloseTo(plant.gravityMPerSec2, 12);
	});
	it("leans tan(theta) = d V/g in steady level flight with linear drag (Faessler, Franchi, Scaramuzza, RA-L 2018)", () => {
		// Their d = 0.544 1/s at 0.61 kg, spread over four rotors' in-plane drag at this hover speed.
		const base = samplePlant();
		const massKg = 0.61;
		const speed = Math.sqrt((massKg * base.gravityMPerSec2) / (4 * base.rotors[0]!.thrustCoefficient));
		const cH = (0.544 * massKg) / (4 * speed);
		const craft: Craft = sampleCraft({
			bare: { massKg, centreOfMassM: [0, 0, -0.02], inertiaKgM2: [0.0025, 0, 0, 0, 0.0021, 0, 0, 0, 0.0043] },
			airframe: { ...sampleCraft().airframe, dragAreaM2: [0, 0, 0], groundEffect: false },
			propulsion: { ...sampleCraft().propulsion, inflowCoefficient: 0, inPlaneDragCoefficient: cH },
		});
		const point = { ...NOMINAL_POINT, windMPerSec: [-4, 0, 0] as const };
		const result = trimAt(craft, plantAt(craft, point), point);
		if (!result.feasible) throw new Error(result.reason);
		// Drag acts in the rotor plane (their vertical coefficient is 0): g sin(theta) = d V cos(theta) along body x, and
		// thrust is m g cos(theta). Here drag is proportional to rotor speed as well, which thrust sets.
		const lean = -result.trim.eulerRad[1];
		const faster = result.trim.speedsRadPerSec.reduce((a, b) => a + b, 0) / (4 * speed);
		expect(Math.tan(lean)).toBeCloseTo(((0.544 * 4) / 9.80665) * faster, 9);
		expect(faster).toBeCloseTo(Math.sqrt(Math.cos(lean)), 9);
	});
	it("yaws counter-clockwise from a clockwise rotor's drag, rolls right from left rotors", () => {
		const body = bodyOf(plant, [0, 0, 0], [0, 500, 0, 500]);
		const dx = new Float64Array(body.x.length);
		derivative(body.kernel, body.x, body.u, body.air, body.outside, dx);
		// Rotors 1 and 3 spin clockwise; momentum in body axes changes by the drag torque alone.
		expect(dx[12]).toBeCloseTo(-2 * plant.rotors[1]!.torqueCoefficient * 500 ** 2, 12);
		const left = bodyOf(plant, [0, 0, 0], [0, 0, 500, 500]);
		derivative(left.kernel, left.x, left.u, left.air, left.outside, dx);
		expect(dx[10]).toBeGreaterThan(0);
		const front = bodyOf(plant, [0, 0, 0], [500, 0, 0, 500]);
		derivative(front.kernel, front.x, front.u, front.air, front.outside, dx);
		expect(dx[11]).toBeGreaterThan(0);
	});
});

describe("hover speeds of published parameter sets, g = 9.80665", () => {
	it.each([
		["Bouabdallah, EPFL thesis 3727, 2007", 0.65, 3.13e-5, 225.63936],
		["Luukkonen, Aalto University, 2011", 0.468, 2.98e-6, 620.50479],
	])("%s", (_, massKg, thrustCoefficient, want) => {
		const base = sampleCraft();
		const craft = sampleCraft({
			bare: { ...base.bare, massKg },
			propulsion: {
				...base.propulsion,
				thrustCoefficient,
				curve: { ...base.propulsion.curve, speedsRadPerSec: [want * 0.2, want * 2] },
			},
			battery: { ...base.battery, brownOutV: 0 },
		});
		const result = trimAt(craft, plantAt(craft, NOMINAL_POINT), NOMINAL_POINT);
		if (!result.feasible) throw new Error(result.reason);
		for (const speed of result.trim.speedsRadPerSec) expect(speed).toBeCloseTo(want, 4);
	});
});

describe("battery", () => {
	it("sags so that voltage times current is the power drawn: V (V0 - V)/R = P/eta + avionics", () => {
		const plant = samplePlant();
		const { body } = rates(plant, 50, [0, 0, 0], 600);
		const volts = batteryVoltage(body.kernel, body.x);
		const drawn =
			(4 * plant.rotors[0]!.torqueCoefficient * 600 ** 3) / plant.efficiency + plant.avionicsPowerW;
		expect((volts * (plant.openCircuitV - volts)) / plant.resistanceOhm).toBeCloseTo(drawn, 8);
		expect(volts).toBeGreaterThan(plant.openCircuitV / 2);
	});
	it("raises the brown-out flag where no voltage gives the power", () => {
		const plant = samplePlant({ resistanceOhm: 1 });
		const { body } = rates(plant, 50, [0, 0, 0], 600);
		expect(body.kernel.work[WORK_BROWN_OUT]).toBe(1);
	});
	it("drives rotors towards V/Vref curve(c) with the lag of the direction", () => {
		const plant = samplePlant();
		const body = bodyOf(plant, [0, 0, 0], [500, 500, 500, 500]);
		const volts = batteryVoltage(body.kernel, body.x);
		body.u.set([600 / volts, 400 / volts, 500 / volts, 0]);
		const dx = new Float64Array(body.x.length);
		derivative(body.kernel, body.x, body.u, body.air, body.outside, dx);
		expect(dx[18]).toBeCloseTo(100 / 0.055, 8);
		expect(dx[19]).toBeCloseTo(-100 / 0.075, 8);
		expect(dx[20]).toBeCloseTo(0, 8);
		expect(dx[21]).toBeCloseTo(-500 / 0.075, 8);
	});
});
