import loadMujoco from "@mujoco/mujoco";
import { describe, expect, it } from "vitest";
import * as quaternion from "../../src/math/quaternion.ts";
import type { Quat, Vec3 } from "../../src/math/types.ts";
import type { JointDrive } from "../../src/physics/joint-drives.ts";
import { type JointTree, wholeAt } from "../../src/physics/joint-tree.ts";
import { body, limbBody, servo } from "../fixtures/limb.ts";
import { bareBody } from "../fixtures/plant.ts";

const GRAVITY = 9.80665;
const frame = body(1.4, [0.01, -0.005, 0.01], [0.016, 0.018, 0.028]);
const upper = {
	parent: -1,
	hingeM: [0.06, 0.01, 0.05] as Vec3,
	axis: [0, 0.8, 0.6] as Vec3,
	mass: body(0.12, [0.13, 0.02, 0.07], [1e-5, 2.5e-4, 2.4e-4]),
};
const lower = {
	parent: 0,
	hingeM: [0.2, 0.02, 0.08] as Vec3,
	axis: [0.6, 0.8, 0] as Vec3,
	mass: body(0.2, [0.26, 0, 0.12], [2e-4, 3e-4, 2.6e-4]),
};
const one: JointTree = { frame, bodies: [upper] };
const two: JointTree = { frame, bodies: [upper, lower] };

const STIFFNESS = 0.4;
const DAMPING = 0.01;
const TARGETS = [1.1, -0.8];
const PUSHES = [5.2, 5.6, 5.0, 5.4];
/** Torques without a joint's own feedback: hard pushes would spin the craft until rounding grows by the turning itself. */
const GENTLE = PUSHES.map((each) => 0.04 * each);

/** The same craft in the engine's own description, its world taken as north-east-down; four constant pushes at rotor places. */
function describeFor(tree: JointTree, stepSec: number, springs: boolean): string {
	const inertial = (m: typeof frame, from: Vec3): string => {
		const j = m.inertiaKgM2;
		return `<inertial mass="${m.massKg}" pos="${m.centreOfMassM.map((v, k) => v - from[k]!).join(" ")}" fullinertia="${[j[0], j[4], j[8], j[1], j[2], j[5]].join(" ")}"/>`;
	};
	const link = (i: number): string => {
		const each = tree.bodies[i];
		if (!each) return "";
		const from = each.parent < 0 ? [0, 0, 0] : tree.bodies[each.parent]!.hingeM;
		const spring = springs
			? `stiffness="${STIFFNESS}" springref="${(TARGETS[i]! * 180) / Math.PI}" damping="${DAMPING}"`
			: "";
		return `<body pos="${each.hingeM.map((v, k) => v - from[k]!).join(" ")}"><joint type="hinge" axis="${each.axis.join(" ")}" ${spring}/>${inertial(each.mass, each.hingeM)}${link(i + 1)}</body>`;
	};
	const plant = bareBody([1, 1, 1]);
	const sites = plant.rotors.map((r, i) => `<site name="s${i}" pos="${r.positionM.join(" ")}"/>`).join("");
	const motors = plant.rotors.map((_, i) => `<motor site="s${i}" gear="0 0 -1 0 0 0"/>`).join("");
	return `<mujoco><compiler angle="degree"/><option timestep="${stepSec}" integrator="RK4" gravity="0 0 ${GRAVITY}"/><worldbody><body><freejoint/>${inertial(frame, [0, 0, 0])}${sites}${link(0)}</body></worldbody><actuator>${motors}</actuator></mujoco>`;
}

function mine(tree: JointTree, drives: JointDrive[], pushes: readonly number[]) {
	const n = tree.bodies.length;
	const whole = wholeAt(tree, new Array(n).fill(0));
	const plant = bareBody([1, 1, 1]);
	const craft = limbBody(tree, drives, new Array(n).fill(0), [0, 0, 0], {
		gravityMPerSec2: GRAVITY,
		rotors: plant.rotors.map((r, i) => ({
			...r,
			axis: [0, 0, -1],
			thrustCoefficient: pushes[i]! / 1e4,
			tauUpSec: 1e6,
			tauDownSec: 1e6,
		})),
	});
	craft.x.set(whole.centreOfMassM);
	for (let i = 0; i < 4; i++) {
		craft.x[18 + i] = 100;
		craft.u[i] = 100 / plant.openCircuitV;
	}
	return craft;
}

/** Angle of the turn between two attitudes. */
function between(p: Quat, q: Quat): number {
	const d = p[0] * q[0] + p[1] * q[1] + p[2] * q[2] + p[3] * q[3];
	const e = quaternion.toMatrix(p).map((v, i) => v - quaternion.toMatrix(q)[i]!);
	return Math.abs(d) > 0.9 ? Math.sqrt(e.reduce((s, v) => s + v * v, 0) / 2) : Math.PI;
}

async function engine(tree: JointTree, springs: boolean, stepSec: number, pushes: readonly number[]) {
	const mujoco = await loadMujoco();
	const model = mujoco.MjModel.from_xml_string(describeFor(tree, stepSec, springs));
	const data = new mujoco.MjData(model);
	for (let i = 0; i < 4; i++) data.ctrl[i] = pushes[i]!;
	return {
		step: () => mujoco.mj_step(model, data),
		push(torques: ArrayLike<number>) {
			for (let i = 0; i < tree.bodies.length; i++) data.qfrc_applied[6 + i] = torques[i]!;
		},
		pose: () => Array.from(data.qpos as Float64Array),
	};
}

describe.each([
	["one hinged link", one],
	["two hinged links", two],
] as const)("a free craft with %s against a general-purpose physics engine (MuJoCo, RK4)", (_, tree) => {
	const n = tree.bodies.length;

	it("swings the same on springs and dampers under uneven thrust, over 2 s", async () => {
		const craft = mine(
			tree,
			tree.bodies.map(() => ({
				...servo(),
				kind: "soft" as const,
				stiffnessNmPerRad: STIFFNESS,
				dampingNmSecPerRad: DAMPING,
				backlashRad: 0,
			})),
			PUSHES,
		);
		for (let i = 0; i < n; i++) {
			craft.own[2 * n + i] = TARGETS[i]!;
			craft.own[4 * n + i] = TARGETS[i]!;
		}
		craft.advance(2, 5e-4);
		// The engine's attitude is of second order in its step: taken to the limit from two steps.
		const ends: number[][] = [];
		for (const parts of [2000, 4000]) {
			const other = await engine(tree, true, 2 / parts, PUSHES);
			for (let k = 0; k < parts; k++) other.step();
			ends.push(other.pose());
		}
		const limit = ends[1]!.map((v, i) => v + (v - ends[0]![i]!) / 3);
		const turned = between(
			Array.from(craft.x.slice(6, 10)) as unknown as Quat,
			limit.slice(3, 7) as unknown as Quat,
		);
		expect(turned).toBeLessThan(1e-6);
		for (let i = 0; i < n; i++) expect(Math.abs(craft.own[i]! - limit[7 + i]!)).toBeLessThan(1e-6);
		expect(Math.max(...Array.from(craft.own.slice(0, n), Math.abs))).toBeGreaterThan(0.2);
	});

	it("turns the same when its servos' torques drive the engine's joints through the same motion, over 2 s", async () => {
		const craft = mine(
			tree,
			tree.bodies.map(() => servo({ rateLimitRadPerSec: 1e3, naturalRadPerSec: 10 })),
			GENTLE,
		);
		for (let i = 0; i < n; i++) craft.stepper.aim(craft.own, i, TARGETS[i]!);
		const h = 1.6e-4;
		const other = await engine(tree, false, h, GENTLE);
		// Torques at the start: those of a step too short to move anything.
		craft.advance(1e-9, 1e-9);
		let before = Array.from(craft.stepper.torques);
		for (let k = 0; k < Math.round(2 / h); k++) {
			craft.advance(h, h);
			const now = Array.from(craft.stepper.torques);
			other.push(now.map((v, i) => (v + before[i]!) / 2));
			other.step();
			before = now;
		}
		const pose = other.pose();
		const turned = between(
			Array.from(craft.x.slice(6, 10)) as unknown as Quat,
			pose.slice(3, 7) as unknown as Quat,
		);
		expect(turned).toBeLessThan(1e-4);
		for (let i = 0; i < n; i++) expect(Math.abs(craft.own[i]! - pose[7 + i]!)).toBeLessThan(1e-4);
		expect(Math.abs(craft.own[0]! - TARGETS[0]!)).toBeLessThan(1e-5);
	});
});
