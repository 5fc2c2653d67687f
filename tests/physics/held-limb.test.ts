import { describe, expect, it } from "vitest";
import { combineBodies } from "../../src/craft/mass.ts";
import { type Craft, NOMINAL_POINT, type OperatingPoint } from "../../src/craft/model.ts";
import { diagonal } from "../../src/math/mat3.ts";
import {
	AIR_ROUGHNESS,
	AIR_SHEAR_SCALE,
	AIR_SHEARED,
	AIR_SIZE,
	createKernel,
	OUTSIDE_SIZE,
} from "../../src/physics/kernel-layout.ts";
import { craftMixer } from "../../src/physics/mixer-at.ts";
import { servoTorquesAt } from "../../src/physics/servo-torque.ts";
import { steadyAir } from "../../src/physics/steady-air.ts";
import { settle, trimAt } from "../../src/physics/trim.ts";
import { sampleCraft } from "../fixtures/craft.ts";

const G = 9.80665;
const RHO = 1.225;
const WIND = 11;

/** Nothing but the limb and the load feels the air; its rotors neither drag nor lose thrust in it. */
function slippery(change: Partial<Craft> = {}): Craft {
	const craft = sampleCraft();
	return {
		...craft,
		airframe: { ...craft.airframe, dragAreaM2: [0, 0, 0], groundEffect: false },
		propulsion: { ...craft.propulsion, inflowCoefficient: 0, inPlaneDragCoefficient: 0 },
		...change,
	};
}

function steady(craft: Craft, point: OperatingPoint) {
	const mixer = craftMixer(craft);
	const { plant, result, held, down } = settle(craft, point, (each, limb) =>
		trimAt(craft, each, point, { mixer, held: limb }),
	);
	if (!result.feasible) throw new Error(result.reason);
	const { trim } = result;
	const thrusts = plant.rotors.map((rotor, i) => rotor.thrustCoefficient * trim.speedsRadPerSec[i]! ** 2);
	return { plant, trim, held, down, thrusts, lift: thrusts.reduce((a, b) => a + b, 0) };
}

describe("a load on a tether in steady wind", () => {
	const MASS = 0.4;
	const LENGTH = 0.5;
	const craft = slippery({
		load: {
			massKg: MASS,
			positionM: [0, 0, 0],
			inertiaKgM2: diagonal(0, 0, 0),
			tether: { lengthM: LENGTH, dampingRatio: 0.02 },
		},
	});
	// A cube as dense as water, Cd 1.05: the drag is the same whichever way the craft leans.
	const drag = 0.5 * RHO * 1.05 * (MASS / 1000) ** (2 / 3) * WIND ** 2;

	it.each([
		["north", [WIND, 0, 0]],
		["south-east", [-WIND * Math.SQRT1_2, WIND * Math.SQRT1_2, 0]],
	] as const)(
		"from the %s leans the craft by drag over all weight, the bob hangs by drag over its own",
		(_, wind) => {
			const at = steady(craft, { ...NOMINAL_POINT, load: "heaviest", windMPerSec: wind });
			const weight = (craft.bare.massKg + MASS) * G;
			const lean = Math.atan(drag / weight);
			const tilt = Math.acos(Math.cos(at.trim.eulerRad[0]) * Math.cos(at.trim.eulerRad[1]));
			expect(tilt).toBeCloseTo(lean, 10);
			expect(at.lift).toBeCloseTo(Math.hypot(weight, drag), 8);
			// The craft leans into the wind, the bob swings out of it: their angles add up between the thrust and the cord.
			const between = Math.acos(at.down[2]);
			expect(between).toBeCloseTo(Math.atan(drag / (MASS * G)) - lean, 8);
			// Held at the centre of mass the cord turns nothing: all rotors alike.
			for (const thrust of at.thrusts) expect(thrust).toBeCloseTo(at.lift / 4, 8);
		},
	);

	it("held below the middle, the cord's pull times its lever is what the rotors differ by", () => {
		const lever = 0.12;
		const low = { ...craft, load: { ...craft.load, positionM: [0, 0, lever] as const } };
		const at = steady(low, { ...NOMINAL_POINT, load: "heaviest", windMPerSec: [WIND, 0, 0] });
		const pull = Math.hypot(MASS * G, drag);
		const across =
			pull * Math.sin(Math.atan(drag / (MASS * G)) - Math.atan(drag / ((craft.bare.massKg + MASS) * G)));
		const torque = at.thrusts.reduce((sum, thrust, i) => sum + thrust * craft.rotors[i]!.positionM[0], 0);
		// Blown backwards, below the middle: it pitches the nose up, so the front pulls less.
		expect(across).toBeGreaterThan(0.1);
		expect(Math.abs(torque)).toBeCloseTo(across * lever, 8);
	});
});

describe("a pole in steady wind", () => {
	const LENGTH = 0.6;
	const MASS = 0.2;
	const AREA = 0.022;
	const base = slippery();
	const servo = {
		rateLimitRadPerSec: 5,
		torqueLimitNm: 3,
		naturalRadPerSec: 25,
		dampingRatio: 0.9,
		stiffnessNmPerRad: null,
		backlashRad: 0,
		jitterRad: 0,
		jitterHz: 10,
		stallCurrentA: 1.5,
	};
	const hinge = 0.05;
	const frame = { ...base.bare, massKg: base.bare.massKg - MASS };
	const mass = {
		massKg: MASS,
		centreOfMassM: [0, 0, hinge + LENGTH / 2] as const,
		inertiaKgM2: diagonal(0.006, 0.006, 1e-5),
	};
	const craft: Craft = {
		...base,
		bare: combineBodies([frame, mass]),
		limb: {
			links: [
				{
					name: "pole",
					hingeM: [0, 0, hinge],
					axis: [0, 1, 0],
					tipM: [0, 0, hinge + LENGTH],
					diameterM: 0.02,
					dragAreaM2: AREA,
					mass,
					travelRad: [-1.6, 1.6],
					servo,
				},
			],
			frame,
			gripM: [0, 0, hinge + LENGTH],
			gripRadiusM: 0.03,
		},
	};
	const drag = 0.5 * RHO * AREA * WIND ** 2;

	it("leans the craft by its drag over all weight, and the rotors carry drag times its lever about the centre of mass", () => {
		const at = steady(craft, { ...NOMINAL_POINT, windMPerSec: [WIND, 0, 0] });
		const weight = base.bare.massKg * G;
		const lean = Math.atan(drag / weight);
		expect(Math.abs(at.trim.eulerRad[1])).toBeCloseTo(lean, 10);
		expect(at.lift).toBeCloseTo(Math.hypot(weight, drag), 8);
		const centre = at.plant.centreOfMassM[2];
		const torque = at.thrusts.reduce((sum, thrust, i) => sum + thrust * craft.rotors[i]!.positionM[0], 0);
		expect(Math.abs(torque)).toBeCloseTo(drag * Math.cos(lean) * (hinge + LENGTH / 2 - centre), 8);
	});

	it("asks of its servo drag and the weight that leans, both at the pole's middle", () => {
		const point = { ...NOMINAL_POINT, windMPerSec: [WIND, 0, 0] as const };
		const { plant, trim, down } = steady(craft, point);
		const [torque] = servoTorquesAt(craft, point, { plant, trim, down, air: steadyAir(point) });
		const lean = Math.atan(drag / (base.bare.massKg * G));
		// The craft leans into the wind, so the pole's foot stands out against it: weight swings it back towards the wind's own way.
		const expected = (LENGTH / 2) * (drag * Math.cos(lean) - MASS * G * Math.sin(lean));
		expect(Math.abs(torque!)).toBeCloseTo(expected, 8);
		expect(expected).toBeGreaterThan(0.3);
	});

	it("feels a wind that shears with height as strong as the log law makes it at the craft", () => {
		const point = { ...NOMINAL_POINT, windMPerSec: [WIND, 0, 0] as const };
		const { plant, trim, held } = steady(craft, point);
		const kernel = createKernel(plant);
		const at = (air: Float64Array): number => {
			const outside = new Float64Array(OUTSIDE_SIZE);
			held!.act(kernel, trim.state, air, outside);
			return outside[3]!;
		};
		// ln(h/z0)/ln(20 ft/z0) of the wind at 20 ft.
		const [height, roughness, reference] = [-trim.state[2]!, 0.1, 20 * 0.3048];
		const sheared = new Float64Array(AIR_SIZE);
		sheared[AIR_SHEARED] = (WIND * Math.log(reference / roughness)) / Math.log(height / roughness);
		sheared[AIR_ROUGHNESS] = roughness;
		sheared[AIR_SHEAR_SCALE] = 1 / Math.log(reference / roughness);
		expect(at(steadyAir(point))).toBeCloseTo(drag, 10);
		expect(at(sheared)).toBeCloseTo(drag, 10);
	});

	it("feels nothing in still air outside the wakes", () => {
		const still = steady(craft, NOMINAL_POINT);
		expect(Math.abs(still.trim.eulerRad[1])).toBeLessThan(1e-12);
		expect(still.down).toEqual([0, 0, 1]);
	});
});

it("a craft without limb or hanging load has nothing for the air to hold", () => {
	expect(steady(sampleCraft(), { ...NOMINAL_POINT, load: "heaviest", windMPerSec: [5, 0, 0] }).held).toBe(
		null,
	);
});
