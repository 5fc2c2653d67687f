import { describe, expect, it } from "vitest";
import * as mat3 from "../../src/math/mat3.ts";
import { toMatrix } from "../../src/math/quaternion.ts";
import type { Quat, Vec3 } from "../../src/math/types.ts";
import * as vec3 from "../../src/math/vec3.ts";
import type { JointTree } from "../../src/physics/joint-tree.ts";
import { bodyRates } from "../../src/physics/kernel-layout.ts";
import { createLimbForces, GRIP } from "../../src/physics/limb-forces.ts";
import { body, CROOKED_LINKS, limbBody, servo, sumsOf } from "../fixtures/limb.ts";
import { samplePlant } from "../fixtures/plant.ts";

const dot = (a: Vec3, b: Vec3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

const tree: JointTree = {
	frame: body(1.6, [0.01, -0.005, 0.01], [0.016, 0.018, 0.028]),
	bodies: CROOKED_LINKS,
};
const WIND: Vec3 = [3, -2, 0.5];
const LINK_AREA = 0.01;
const VOLTS = 15;
const HELD = { stiffness: 60, damping: 2 };

describe("energy book of a swing-out under thrust, in wind, the grip held by a spring", () => {
	it("work of servos, rotors, weight, wind and spring is the change of energy", () => {
		const base = samplePlant();
		const grip = new Float64Array(GRIP.length);
		const forces = createLimbForces({
			drag: [0, 1].map((b) => ({ body: b, fromCentreM: [0, 0, 0], areaM2: LINK_AREA })),
			grip,
			gripBody: 1,
			gripFromCentreM: [0, 0, 0],
			airDensityKgM3: base.airDensityKgM3,
			// No wash: its speed is the rotors' own matter.
			rotorRadiusM: 1e-6,
			carries: (i, b) => i <= b,
		});
		const law = servo({ rateLimitRadPerSec: 1e3 });
		const at = limbBody(
			tree,
			[law, law],
			[0, 0.2],
			[0.3, -0.2, 0.5],
			{
				rotors: base.rotors.map((rotor) => ({ ...rotor, tauUpSec: 0.06, tauDownSec: 0.06 })),
				openCircuitV: VOLTS,
				resistanceOhm: 0,
				airDensityKgM3: base.airDensityKgM3,
				gravityMPerSec2: base.gravityMPerSec2,
				dragAreaM2: [0.02, 0.03, 0.04],
				centreOfPressureM: [0.02, -0.01, -0.03],
			},
			forces,
		);
		const { rotors } = base;
		const speeds = [430, 480, 450, 470];
		const goals = [520, 470, 540, 430];
		speeds.forEach((w, i) => {
			at.x[18 + i] = w;
			at.u[i] = goals[i]! / VOLTS;
			for (let k = 0; k < 3; k++)
				at.x[10 + k]! -= rotors[i]!.spin * rotors[i]!.inertiaKgM2 * w * rotors[i]!.axis[k]!;
		});
		for (let i = 0; i < 9; i++) at.air[i] = WIND[i % 3]!;
		at.stepper.aim(at.own, 0, 1.2);
		at.stepper.aim(at.own, 1, -0.7);
		grip.set([HELD.stiffness, HELD.damping, Number.NaN, Number.NaN, Number.NaN]);

		/** Power of everything, each body and hub from its own motion in the world. */
		const power = () => {
			const { parts, kinetic } = sumsOf(at);
			const turn = toMatrix(Array.from(at.x.slice(6, 10)) as unknown as Quat);
			const out = new Float64Array(3);
			bodyRates(at.kernel, at.x, out);
			const rates: Vec3 = [out[0]!, out[1]!, out[2]!];
			const speedOf = (r: Vec3): Vec3 =>
				vec3.add(
					parts[0]!.velocity,
					mat3.times(turn, vec3.cross(rates, vec3.subtract(r, tree.frame.centreOfMassM))),
				);
			const through = (v: Vec3): Vec3 => vec3.subtract(v, WIND);
			const weight = parts.reduce((sum, part) => sum + part.linear[2] * base.gravityMPerSec2, 0);
			const servos = at.stepper.torques[0]! * at.own[2]! + at.stepper.torques[1]! * at.own[3]!;
			let pushes = 0;
			rotors.forEach((rotor, i) => {
				const w = at.x[18 + i]!;
				const v = speedOf(rotor.positionM);
				const seen = mat3.times(mat3.transpose(turn), through(v));
				const axial = dot(seen, rotor.axis);
				const flat = vec3.subtract(seen, vec3.scale(rotor.axis, axial));
				const thrust = rotor.thrustCoefficient * w * w - rotor.inflowCoefficient * w * axial;
				const push = vec3.subtract(
					vec3.scale(rotor.axis, thrust),
					vec3.scale(flat, rotor.inPlaneDragCoefficient * w),
				);
				const rise = (goals[i]! - w) / 0.06;
				// Drag torque, and what speeding the rotor up takes from the body.
				const couple = rotor.spin * (rotor.torqueCoefficient * w * w + rotor.inertiaKgM2 * rise);
				pushes += dot(mat3.times(turn, push), v) + couple * dot(rotor.axis, rates);
			});
			const drag = [1, 2].reduce((sum, b) => {
				const v = parts[b]!.velocity;
				const u = through(v);
				return sum - 0.5 * base.airDensityKgM3 * LINK_AREA * vec3.length(u) * dot(u, v);
			}, 0);
			const pressure = speedOf([0.02, -0.01, -0.03]);
			const seen = mat3.times(mat3.transpose(turn), through(pressure));
			const size = vec3.length(seen);
			const hull = mat3.times(
				turn,
				[0.02, 0.03, 0.04].map(
					(area, k) => -0.5 * base.airDensityKgM3 * area * size * seen[k]!,
				) as unknown as Vec3,
			);
			const held = parts[2]!;
			const stretch = vec3.subtract(held.placeM, [grip[2]!, grip[3]!, grip[4]!]);
			const spring = vec3.add(vec3.scale(stretch, -HELD.stiffness), vec3.scale(held.velocity, -HELD.damping));
			return {
				total: weight + servos + pushes + drag + dot(hull, pressure) + dot(spring, held.velocity),
				servos,
				kinetic,
			};
		};
		const h = 2.5e-4;
		const book: ReturnType<typeof power>[] = [];
		const stepOn = (): void => {
			at.advance(h, h);
			book.push(power());
		};
		stepOn();
		for (let i = 0; i < 1600; i++) stepOn();
		let work = 0;
		let given = 0;
		let byServos = 0;
		// Simpson's rule.
		for (let i = 0; i + 2 < book.length; i += 2) {
			work += (h / 3) * (book[i]!.total + 4 * book[i + 1]!.total + book[i + 2]!.total);
			given += 2 * h * Math.abs(book[i + 1]!.total);
			byServos += 2 * h * Math.abs(book[i + 1]!.servos);
		}
		const change = book[book.length - 1]!.kinetic - book[0]!.kinetic;
		expect(byServos).toBeGreaterThan(0.02);
		expect(Math.abs(change)).toBeGreaterThan(0.1);
		// The torques that are read stand at the last stage: of third order in the step.
		expect(Math.abs(work - change)).toBeLessThan(1e-6 * given);
	});
});

describe("order of accuracy", () => {
	it("is four on a smooth swing under thrust", () => {
		const law = servo({ naturalRadPerSec: 4, rateLimitRadPerSec: 1e3 });
		const base = samplePlant();
		const end = (stepSec: number): Float64Array => {
			const at = limbBody(tree, [law, law], [0, 0.2], [0.3, -0.2, 0.5], {
				rotors: base.rotors.map((rotor) => ({ ...rotor, tauUpSec: 0.2, tauDownSec: 0.2 })),
				resistanceOhm: 0,
				gravityMPerSec2: base.gravityMPerSec2,
			});
			for (let i = 0; i < 4; i++) {
				at.x[18 + i] = 440;
				at.u[i] = (400 + 40 * i) / base.openCircuitV;
			}
			at.stepper.aim(at.own, 0, 1.2);
			at.stepper.aim(at.own, 1, -0.7);
			at.advance(0.32, stepSec);
			return at.x.slice(0, 18);
		};
		const exact = end(5e-4);
		const error = (stepSec: number): number =>
			Math.max(...end(stepSec).map((v, i) => Math.abs(v - exact[i]!)));
		const [coarse, fine] = [error(0.016), error(0.008)];
		expect(coarse).toBeGreaterThan(1e-10);
		expect(Math.log2(coarse / fine)).toBeGreaterThan(3.7);
		expect(Math.log2(coarse / fine)).toBeLessThan(4.6);
	});
});
