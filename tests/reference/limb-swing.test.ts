import { describe, expect, it } from "vitest";
import type { Limb } from "../../src/craft/limb-model.ts";
import { clearanceAt } from "../../src/craft/limb-pose.ts";
import { sloshPendulum } from "../../src/craft/load-swing.ts";
import type { Vec3 } from "../../src/math/types.ts";
import * as vec3 from "../../src/math/vec3.ts";
import type { JointTree } from "../../src/physics/joint-tree.ts";
import { wholeAt } from "../../src/physics/joint-tree.ts";
import { limbTree } from "../../src/physics/limb-tree.ts";
import { sampleCraft } from "../fixtures/craft.ts";
import { body, limbBody } from "../fixtures/limb.ts";
import { bareBody } from "../fixtures/plant.ts";

const GRAVITY = 9.80665;
const HEAVY_KG = 1e7;

/** Complete elliptic integral of the first kind by the arithmetic-geometric mean (Abramowitz and Stegun 17.6, from memory). */
function ellipticK(m: number): number {
	let [a, b] = [1, Math.sqrt(1 - m)];
	while (Math.abs(a - b) > 1e-15) [a, b] = [(a + b) / 2, Math.sqrt(a * b)];
	return Math.PI / (2 * a);
}

/** A frame too heavy to move, held up by its rotors' thrust, with a tree of hanging joints. */
function heldUp(tree: JointTree, angles: readonly number[]) {
	const plant = bareBody([1, 1, 1]);
	const massKg = wholeAt(tree, angles).massKg;
	const at = limbBody(
		tree,
		tree.bodies.map(() => ({ kind: "hanging" as const, dampingNmSecPerRad: 0 })),
		angles,
		[0, 0, 0],
		{
			gravityMPerSec2: GRAVITY,
			rotors: plant.rotors.map((r) => ({
				...r,
				axis: [0, 0, -1],
				thrustCoefficient: (massKg * GRAVITY) / 4e4,
				tauUpSec: 1e9,
				tauDownSec: 1e9,
			})),
		},
	);
	for (let i = 0; i < 4; i++) {
		at.x[18 + i] = 100;
		at.u[i] = 100 / plant.openCircuitV;
	}
	return at;
}

describe("a load on a tether", () => {
	const craft = sampleCraft({
		load: {
			massKg: 0.3,
			positionM: [0, 0, 0],
			inertiaKgM2: [0, 0, 0, 0, 0, 0, 0, 0, 0],
			tether: { lengthM: 0.5, dampingRatio: 0 },
		},
	});
	const hung = limbTree(craft, [{ massKg: 0.3, positionM: [0, 0, 0] }], []);
	const tree = { ...hung.tree, frame: body(HEAVY_KG, [0, 0, 0], [1e7, 1e7, 1e7]) };

	it.each([
		[5, 0],
		[30, 1],
		[60, 0],
		[60, 1],
		[85, 0],
	])(
		"swings from %d deg about hinge %d with the pendulum's period, T = 4 sqrt(L/g) K(sin^2(a/2)), to 1e-6",
		(deg, hinge) => {
			const start = (deg * Math.PI) / 180;
			const angles = [0, 0];
			angles[hinge] = start;
			const swing = heldUp(tree, angles);
			const quarter = Math.sqrt(0.5 / GRAVITY) * ellipticK(Math.sin(start / 2) ** 2);
			// Through the middle three quarters later: the time by the last step's cubic.
			let time = 0;
			let before = [start, 0];
			let passes = 0;
			let found = Number.NaN;
			while (time < 4 * quarter && passes < 2) {
				swing.advance(1e-3, 1e-3);
				time += 1e-3;
				const now = [swing.own[hinge]!, swing.own[2 + hinge]!];
				if (before[0]! * now[0]! < 0) {
					passes++;
					found = time - 1e-3 * (1 - crossing(before, now));
				}
				before = now;
			}
			expect(found / (3 * quarter)).toBeCloseTo(1, 6);
			expect(Math.abs(swing.own[1 - hinge]!)).toBeLessThan(1e-9);
		},
	);
});

/** Share of a 1 ms step at which the cubic through two [value, speed] is 0. */
function crossing([a, va]: number[], [b, vb]: number[]): number {
	const h = 1e-3;
	const f = (s: number): number =>
		(1 + 2 * s) * (1 - s) ** 2 * a! +
		s * (1 - s) ** 2 * h * va! +
		s * s * (3 - 2 * s) * b! +
		s * s * (s - 1) * h * vb!;
	let [low, high] = [0, 1];
	for (let i = 0; i < 60; i++) {
		const mid = (low + high) / 2;
		if (f(mid) * f(0) > 0) low = mid;
		else high = mid;
	}
	return (low + high) / 2;
}

describe("sloshing", () => {
	// Recomputed apart from this code, from the formulas of NASA SP-106 as written there for a round tank of diameter d (from memory):
	// L = (d/3.68) coth(3.68 h/d), m1/m = (d/(4.4 h)) tanh(3.68 h/d); and to all digits with J1'(1.841183781340659) = 0.
	it.each([
		[0.05, 0.1, 0.027190854, 0.226966969],
		[0.05, 0.02, 0.043311031, 0.712454253],
	])("of a tank of radius %d m filled to %d m", (radius, depth, lengthM, share) => {
		const found = sloshPendulum(radius, depth);
		expect(found.lengthM).toBeCloseTo(lengthM, 8);
		expect(found.share).toBeCloseTo(share, 8);
		const d = 2 * radius;
		expect(found.lengthM / (d / 3.68 / Math.tanh((3.68 * depth) / d))).toBeCloseTo(1, 2);
		expect(found.share / ((d / (4.4 * depth)) * Math.tanh((3.68 * depth) / d))).toBeCloseTo(1, 2);
	});
});

describe("a limb's pose as one rigid body", () => {
	it("by the parallel-axis theorem, worked by hand", () => {
		// Frame 1.5 kg at the origin; link 0.2 kg, its middle 0.1 m beyond a hinge at (0.1, 0, 0), turned up by 90 deg: middle at (0.1, 0, -0.1).
		const tree: JointTree = {
			frame: body(1.5, [0, 0, 0], [0.015, 0.016, 0.025]),
			bodies: [
				{
					parent: -1,
					hingeM: [0.1, 0, 0],
					axis: [0, 1, 0],
					mass: body(0.2, [0.2, 0, 0], [1e-5, 2e-4, 3e-4]),
				},
			],
		};
		const { massKg, centreOfMassM, inertiaKgM2 } = wholeAt(tree, [Math.PI / 2]);
		expect(massKg).toBeCloseTo(1.7, 14);
		// 0.2/1.7 of (0.1, 0, -0.1).
		expect(far(centreOfMassM, [0.011764705882, 0, -0.011764705882])).toBeLessThan(1e-11);
		// 1.5 0.2/1.7 = 0.17647059 kg reduced mass at a distance of (0.1, 0, -0.1): 0.0017647059 about x and z, twice that about y, and the same off the diagonal;
		// the link's own moments about x and z change places.
		const mu = 0.3 / 1.7;
		const expected = [
			0.015 + 3e-4 + 0.01 * mu,
			0,
			0.01 * mu,
			0,
			0.016 + 2e-4 + 0.02 * mu,
			0,
			0.01 * mu,
			0,
			0.025 + 1e-5 + 0.01 * mu,
		];
		inertiaKgM2.forEach((v, i) => {
			expect(v).toBeCloseTo(expected[i]!, 14);
		});
	});
});

const far = (a: Vec3, b: Vec3): number => vec3.length(vec3.subtract(a, b));

describe("clearance of a limb from propellers", () => {
	it.each([
		[[0.05, 0.02, 0.06], [0.3, 0.1, 0.03], -0.4],
		[[0.0, 0.0, 0.08], [0.25, 0.18, 0.05], 0.5],
		[[-0.1, 0.05, 0.02], [0.35, 0.3, 0.02], 0.2],
		[[0.1, 0.1, 0.1], [0.1, 0.1, -0.3], 0],
		[[0.02, -0.3, 0.05], [0.4, -0.25, -0.2], 0.3],
		[[0.18, 0.18, 0.05], [0.3, 0.18, 0.04], 1.2],
	] as [Vec3, Vec3, number][])(
		"from %j to %j at %d rad: least of many pairs of points",
		(hinge, tip, angle) => {
			const base = sampleCraft();
			const tilted = base.rotors.map((rotor, i) =>
				i % 2 ? rotor : { ...rotor, axis: [0.28, 0, -0.96] as Vec3 },
			);
			const limb = {
				links: [{ name: "boom", hingeM: hinge, axis: [0, 1, 0], tipM: tip, diameterM: 0.01 }],
				gripM: tip,
				gripRadiusM: 0,
			} as unknown as Limb;
			const craft = sampleCraft({ rotors: tilted, limb });
			const found = clearanceAt(craft, [angle]);
			const radius = craft.propulsion.radiusM;
			const along = vec3.subtract(tip, hinge);
			const turned: Vec3 = [
				Math.cos(angle) * along[0] + Math.sin(angle) * along[2],
				along[1],
				-Math.sin(angle) * along[0] + Math.cos(angle) * along[2],
			];
			let least = Number.POSITIVE_INFINITY;
			for (const { positionM, axis } of tilted) {
				const e = vec3.scale(vec3.cross(axis, [0, 1, 0]), 1 / vec3.length(vec3.cross(axis, [0, 1, 0])));
				const f = vec3.cross(axis, e);
				for (let i = 0; i <= 60; i++)
					for (let j = 0; j < 90; j++) {
						const r = (radius * i) / 60;
						const a = (2 * Math.PI * j) / 90;
						const on = vec3.add(
							positionM,
							vec3.add(vec3.scale(e, r * Math.cos(a)), vec3.scale(f, r * Math.sin(a))),
						);
						const d = vec3.subtract(on, hinge);
						const l2 = turned[0] ** 2 + turned[1] ** 2 + turned[2] ** 2;
						const s = Math.max(0, Math.min(1, (d[0] * turned[0] + d[1] * turned[1] + d[2] * turned[2]) / l2));
						least = Math.min(least, far(d, vec3.scale(turned, s)));
					}
			}
			// The grid's points stand 2.3 mm and 4 deg (9.8 mm at the rim) apart: no farther than 5.1 mm from any point of the disc.
			expect(found.metres + 0.005).toBeLessThan(least + 1e-9);
			expect(found.metres + 0.005).toBeGreaterThan(least - 0.0051);
		},
	);
});
