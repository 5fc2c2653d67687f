import { describe, expect, it } from "vitest";
import type { Vec3 } from "../../src/math/types.ts";
import { createGround } from "../../src/physics/ground.ts";
import { LEVEL_GROUND } from "../../src/physics/ground-spec.ts";
import type { JointTree } from "../../src/physics/joint-tree.ts";
import { bodyRates, WORK_STEP } from "../../src/physics/kernel-layout.ts";
import { body, servo } from "../fixtures/limb.ts";
import { FEET, feet, GRAVITY, onGround } from "../fixtures/limb-ground.ts";
import { bareBody, bodyOf } from "../fixtures/plant.ts";

const FRAME = body(1.6, [0, 0, 0.01], [0.016, 0.018, 0.028]);
/** One link ahead of the hinge, pitching: positive angles raise its end. */
const LINK = 0.3;
const HINGE: Vec3 = [0.1, 0, 0.05];
const linkOf = (massKg: number, fromHingeM = 0.15): JointTree => ({
	frame: FRAME,
	bodies: [
		{
			parent: -1,
			hingeM: HINGE,
			axis: [0, 1, 0],
			mass: body(massKg, [HINGE[0] + fromHingeM, 0, HINGE[2]], [1e-5, 1e-3, 1e-3]),
		},
	],
});
const tip = { body: 0, placeM: [HINGE[0] + LINK, 0, HINGE[2]] as Vec3 };
const quick = servo({ naturalRadPerSec: 12, rateLimitRadPerSec: 2 });

describe("a limb held still is a rigid body on its feet", () => {
	it("falls, slides and comes to rest as ground.ts has it, within 1e-9", () => {
		const tree = linkOf(0.2);
		const at = onGround(tree, [servo()], [0.3], feet);
		const plant = bareBody([1, 1, 1], {
			massKg: at.massKg,
			centreOfMassM: [at.stepper.posture.centre[0]!, 0, at.stepper.posture.centre[2]!],
			inertiaKgM2: Array.from(at.stepper.posture.inertia) as never,
			gravityMPerSec2: GRAVITY,
		});
		const rigid = bodyOf(plant, [0, 0, 0]);
		const ground = createGround(plant, FEET, LEVEL_GROUND);
		const own = new Float64Array(ground.ownLength);
		at.standAt(0.2);
		at.x[3] = 0.3;
		rigid.x.set(at.x);
		let worst = 0;
		let lowest = 0;
		// Steps so short that neither cuts them into pieces.
		const h = 5e-5;
		at.advance(0.4, h, () => {
			rigid.kernel.work[WORK_STEP] = h;
			ground.step(rigid.kernel, rigid.x, rigid.u, rigid.air, rigid.outside, own);
			for (let i = 0; i < 10; i++) worst = Math.max(worst, Math.abs(rigid.x[i]! - at.x[i]!));
			lowest = Math.max(lowest, at.x[2]!);
		});
		expect(worst).toBeLessThan(1e-9);
		expect(lowest).toBeGreaterThan(-0.17);
	});
});

describe("standing with the limb out", () => {
	it("shares the weight among the feet as the moment balance says, while it moves out and after", () => {
		const at = onGround(linkOf(0.2), [quick], [0], [...feet, tip], { sinkM: 2e-4 });
		at.standAt(0.15);
		at.stepper.aim(at.own, 0, 0.4);
		at.advance(4);
		const angle = at.own[0]!;
		expect(angle).toBeCloseTo(0.4, 6);
		// By hand, the craft level; its tilt on unevenly sunken feet shifts its middle by no more than tilt times its height over them.
		const shift = 2 * Math.abs(at.x[8]!) * 0.15;
		expect(shift).toBeLessThan(1e-4);
		const middle = (0.2 * (HINGE[0] + 0.15 * Math.cos(angle))) / 1.8;
		const weight = 1.8 * GRAVITY;
		const front = (weight * (middle + 0.1)) / 0.2 / 2;
		const rear = (weight * (0.1 - middle)) / 0.2 / 2;
		for (const i of [0, 3]) expect(Math.abs(at.pushOf(i) - front)).toBeLessThan((weight * shift) / 0.4);
		for (const i of [1, 2]) expect(Math.abs(at.pushOf(i) - rear)).toBeLessThan((weight * shift) / 0.4);
		expect([0, 1, 2, 3].reduce((sum, i) => sum + at.pushOf(i), 0)).toBeCloseTo(weight, 6);
		// Exactly, about the tilted craft's own centre of mass.
		let moment = 0;
		for (let i = 0; i < 4; i++) moment += at.pushOf(i) * (at.ground.contacts.at[9 + 8 * i]! - at.x[0]!);
		expect(Math.abs(moment)).toBeLessThan(1e-6);
	});

	it.each([
		["inside the feet", 0.5, 0.15, true],
		["outside the feet", 0.9, 0.25, false],
	] as const)("with the centre of mass %s it stands or tips over", (_, massKg, lever, stands) => {
		// Folded back over the craft at pi, swung ahead to 0 at the end.
		const at = onGround(linkOf(massKg, lever), [servo({ naturalRadPerSec: 3 })], [2], feet);
		const middle = (massKg * (HINGE[0] + lever) + 0) / (FRAME.massKg + massKg);
		expect(middle < 0.1).toBe(stands);
		at.standAt(0.15);
		at.stepper.aim(at.own, 0, 0);
		at.advance(3);
		const noseDown = -2 * (at.x[7]! * at.x[9]! - at.x[6]! * at.x[8]!);
		if (stands) expect(Math.abs(noseDown)).toBeLessThan(0.03);
		else expect(noseDown).toBeLessThan(-0.3);
	});
});

describe("a link's end pressed on the ground by a servo that is too weak to lift the craft", () => {
	it("pushes by torque over lever, and unloads the feet by as much", () => {
		const torqueLimitNm = 0.6;
		const massKg = 0.05;
		const at = onGround(
			linkOf(massKg),
			[servo({ torqueLimitNm, naturalRadPerSec: 6 })],
			[0.2],
			[...feet, tip],
		);
		at.standAt(0.15);
		// The end would go 0.1 m into the ground.
		at.stepper.aim(at.own, 0, -0.8);
		at.advance(4);
		expect(Math.abs(at.own[1]!)).toBeLessThan(1e-6);
		expect(at.stepper.torques[0]).toBeCloseTo(-torqueLimitNm, 9);
		// About the hinge: the servo's torque and the link's weight against the push. Friction's lever is the hinge's height.
		at.pushOf(4);
		const c = at.ground.contacts.at;
		const bodies = at.stepper.posture.bodies;
		const hinge = [0, 2].map((k) => at.x[k]! + (bodies[9 + k]! - at.stepper.posture.centre[k]!));
		const lever = c[9 + 8 * 4]! - hinge[0]!;
		const height = c[9 + 8 * 4 + 2]! - hinge[1]!;
		const push = at.pushOf(4);
		const own = at.own;
		const stretch = c[9 + 8 * 4]! - own[at.ground.contacts.ownAt + 4 + 5 * 4]!;
		const friction = -at.ground.contacts.stiffness * stretch;
		const closed = (torqueLimitNm + massKg * GRAVITY * lever * 0.5 - friction * height) / lever;
		expect(push / closed).toBeCloseTo(1, 3);
		expect(push).toBeGreaterThan(1.5);
		const weight = at.massKg * GRAVITY;
		expect([0, 1, 2, 3, 4].reduce((sum, i) => sum + at.pushOf(i), 0)).toBeCloseTo(weight, 6);
		const rates = new Float64Array(3);
		bodyRates(at.kernel, at.x, rates);
		expect(Math.abs(rates[1]!)).toBeLessThan(1e-6);
	});
});

describe("a rigid load in the grip", () => {
	it("lowered onto the ground, takes its weight off what carries the craft, no more and no less", () => {
		const loadKg = 0.3;
		const half = 0.0325;
		// Straight below the frame's middle.
		const middle: Vec3 = [0, 0, 0.29];
		const tree: JointTree = {
			frame: FRAME,
			bodies: [
				{
					parent: -1,
					hingeM: [0, 0, 0.05],
					axis: [0, 1, 0],
					mass: body(loadKg, middle, [2e-4, 2e-4, 2e-4]),
				},
			],
		};
		const corners = Array.from({ length: 8 }, (_, k) => ({
			body: 0,
			placeM: [
				middle[0] + (k & 1 ? half : -half),
				middle[1] + (k & 2 ? half : -half),
				middle[2] + (k & 4 ? half : -half),
			] as Vec3,
		}));
		const at = onGround(tree, [servo()], [0], [...feet, ...corners]);
		at.standAt(middle[2] + half + 0.004);
		// A slow sink, then a thrust of just the craft without its load.
		at.outside[5] = -at.massKg * GRAVITY;
		at.x[5] = 0.1;
		at.advance(0.05);
		at.outside[5] = -FRAME.massKg * GRAVITY;
		at.advance(3);
		for (const i of [3, 4, 5]) expect(Math.abs(at.x[i]!)).toBeLessThan(1e-6);
		const pushes = corners.map((_, k) => at.pushOf(feet.length + k));
		const upper = pushes.slice(0, 4);
		expect(upper).toEqual([0, 0, 0, 0]);
		for (const push of pushes.slice(4)) expect(push).toBeCloseTo((loadKg * GRAVITY) / 4, 6);
		expect(at.pushOf(0)).toBe(0);
	});
});
