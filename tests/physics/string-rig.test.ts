import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Vec3 } from "../../src/math/types.ts";
import { bodyRates, setBodyRates, WORK_STEP } from "../../src/physics/kernel-layout.ts";
import type { Plant } from "../../src/physics/plant.ts";
import type { StringsSpec } from "../../src/physics/rig-spec.ts";
import { createStringRig } from "../../src/physics/string-rig.ts";
import { leastAllocatedBytes } from "../fixtures/allocated-bytes.ts";
import { bareBody, bodyOf } from "../fixtures/plant.ts";

const G = 9.80665;
const INERTIA: Vec3 = [0.01, 0.011, 0.018];
const heavy = (change: Partial<Plant> = {}): Plant =>
	bareBody(INERTIA, { gravityMPerSec2: G, centreOfMassM: [0, 0, 0], ...change });

const ONE: StringsSpec = {
	kind: "strings",
	axis: "roll",
	strings: [{ bodyM: [0, 0, 0], lengthM: 1 }],
	stiffnessNPerM: 1e5,
	dampingNSecPerM: 0,
	startAngleRad: 0,
};

function hung(change: Partial<StringsSpec> = {}, plant = heavy()) {
	const spec = { ...ONE, ...change };
	const rig = createStringRig(plant, spec);
	const body = bodyOf(plant, [0, 0, 0]);
	const own = new Float64Array(rig.ownLength);
	rig.hold(body.kernel, body.x, own);
	const start = body.x.slice();
	const rates = new Float64Array(3);
	const run = (sec: number, each?: () => void, h = 0.001): void => {
		for (let i = 0; i < Math.round(sec / h); i++) {
			body.kernel.work[WORK_STEP] = h;
			rig.step(body.kernel, body.x, body.u, body.air, body.outside, own);
			each?.();
		}
	};
	const moving = (): number => {
		bodyRates(body.kernel, body.x, rates);
		const turning = INERTIA.reduce((sum, j, i) => sum + 0.5 * j * rates[i]! ** 2, 0);
		return turning + 0.5 * (body.x[3]! ** 2 + body.x[4]! ** 2 + body.x[5]! ** 2);
	};
	const energy = (): number => moving() - G * body.x[2]! + rig.stored(body.x);
	return { moving, rig, body, own, run, start, energy, spec, plant };
}

/** Between upward passings of 0. */
function period(run: ReturnType<typeof hung>, sec: number, value: () => number): number {
	const ups: number[] = [];
	let before = value();
	let t = 0;
	run.run(sec, () => {
		const now = value();
		if (before < 0 && now >= 0) ups.push(t + (0.001 * before) / (before - now));
		before = now;
		t += 0.001;
	});
	return (ups.at(-1)! - ups[0]!) / (ups.length - 1);
}

describe("hanging still", () => {
	it("stretches each string by its share of the weight", () => {
		const run = hung({
			strings: [
				{ bodyM: [0.2, 0, -0.05], lengthM: 0.8 },
				{ bodyM: [-0.1, 0, -0.05], lengthM: 0.8 },
			],
			stiffnessNPerM: 2000,
			dampingNSecPerM: 30,
		});
		run.run(20);
		// Levers 0.2 and 0.1 about the middle: the rear string bears two thirds. The craft dips a little in front or behind, 1.6 mm over 0.3 m.
		const [front, rear] = run.rig.tensions(run.body.kernel, run.body.x);
		expect(front! + rear!).toBeCloseTo(G, 4);
		expect(rear! / G).toBeCloseTo(2 / 3, 2);
		const sunk = run.body.x[2]! - run.start[2]!;
		expect(sunk).toBeCloseTo(((2 / 3) * (2 / 3) * G + ((1 / 3) * G) / 3) / 2000, 4);
	});
});

describe("the pendulum", () => {
	// T = 2 pi sqrt(L/g) for small swings of a point mass (any text on mechanics): tied at the centre of mass the body does not turn.
	it("tied at its centre of mass swings as a point does", () => {
		const run = hung();
		const stretched = 1 + G / 1e5;
		run.body.x[1] = run.start[1]! + 0.001;
		run.body.x[2] = run.start[2]! + G / 1e5;
		const found = period(run, 9, () => run.body.x[1]! - run.start[1]!);
		// The string's own bounce, 50 Hz, changes its length by less than 1e-6.
		expect(found / (2 * Math.PI * Math.sqrt(stretched / G))).toBeCloseTo(1, 5);
	});

	// Tied above its middle, a double pendulum with a massless upper rod (Lagrange's equations for small angles, derived here): string L, arm e,
	// radius of gyration k, L = 1: w^4 k^2 - w^2 g (e + e^2 + k^2) + g^2 e = 0.
	it("tied above its middle swings in the two modes of a double pendulum", () => {
		const e = 0.06;
		const k2 = INERTIA[0];
		const b = G * (e + e * e + k2);
		const root = Math.sqrt(b * b - 4 * k2 * G * G * e);
		for (const [w2, sign] of [
			[(b - root) / (2 * k2), 1],
			[(b + root) / (2 * k2), -1],
		] as const) {
			// Shape: angle of the string a, of the body b: (g - w^2 L) a = w^2 e b.
			const run = hung({ strings: [{ bodyM: [0, 0, -e], lengthM: 1 }] });
			const string = (sign * 1e-4) as number;
			const lean = ((G - w2) * string) / (w2 * e);
			// Seen along the body's own x, a positive roll swings the middle, which hangs below, to the left.
			const middle = run.start[1]! + string + e * lean;
			run.body.x[1] = middle;
			run.body.x[2] = run.start[2]! + G / 1e5;
			run.body.x[6] = Math.cos(lean / 2);
			run.body.x[7] = -Math.sin(lean / 2);
			const found = period(run, 6, () => run.body.x[1]! - run.start[1]!);
			expect((found * Math.sqrt(w2)) / (2 * Math.PI)).toBeCloseTo(1, 4);
		}
	});

	// Bifilar: T = 2 pi sqrt(4 J L/(m g D^2)), spacing D, length L (NACA TR 467, 1933, and any text; I = m g D^2 T^2/(16 pi^2 L)).
	it("on two strings turns about yaw as the bifilar pendulum does", () => {
		const D = 0.3;
		const run = hung({
			axis: "yaw",
			strings: [
				{ bodyM: [0, D / 2, 0], lengthM: 1 },
				{ bodyM: [0, -D / 2, 0], lengthM: 1 },
			],
			startAngleRad: 0.01,
		});
		run.body.x[2] = run.start[2]! + G / 2e5;
		const found = period(run, 12, () => run.body.x[9]!);
		const stretched = 1 + G / 2e5;
		const expected = 2 * Math.PI * Math.sqrt((4 * INERTIA[2] * stretched) / (G * D * D));
		// Finite twist of 0.01 rad: 1e-5 or so.
		expect(found / expected).toBeCloseTo(1, 4);
	});
});

describe("strings", () => {
	it("do not push: below slack the craft falls freely", () => {
		const run = hung({ dampingNSecPerM: 100 });
		run.body.x[2] = run.start[2]! - 0.2;
		run.run(0.15);
		expect(run.body.x[2]! - run.start[2]!).toBeCloseTo(-0.2 + 0.5 * G * 0.15 ** 2, 10);
		expect(run.rig.tensions(run.body.kernel, run.body.x)[0]).toBe(0);
	});

	// Undamped, a string that turns taut at a share q of a sub-step h errs: Runge-Kutta takes the ramp k v (t - q h) by Simpson's rule, at most k v h^2/24 of
	// momentum off, k v^2 h^2/24 of energy; with h w = 0.05 that is 0.05^2/12 of the most energy of motion.
	it("give no energy, slack or taut, swung or thrown, beyond what turning taut within a sub-step errs by", () => {
		fc.assert(
			fc.property(
				fc.array(fc.double({ min: -1, max: 1, noNaN: true }), { minLength: 9, maxLength: 9 }),
				fc.double({ min: 200, max: 5000, noNaN: true }),
				fc.double({ min: 0, max: 40, noNaN: true }),
				(r, stiffnessNPerM, dampingNSecPerM) => {
					const run = hung({
						strings: [
							{ bodyM: [0.15, 0, -0.05], lengthM: 0.6 },
							{ bodyM: [-0.15, 0, -0.05], lengthM: 0.6 },
						],
						stiffnessNPerM,
						dampingNSecPerM,
						startAngleRad: 0.5 * r[6]!,
					});
					run.body.x.set([r[0]!, r[1]!, r[2]!], 3);
					setBodyRates(run.body.kernel, run.plant.inertiaKgM2, run.body.x, [3 * r[3]!, 3 * r[4]!, 3 * r[5]!]);
					let last = run.energy();
					let gained = 0;
					let fastest = 0;
					run.run(1, () => {
						const now = run.energy();
						gained = Math.max(gained, now - last);
						fastest = Math.max(fastest, run.moving());
						last = now;
					});
					expect(gained / fastest).toBeLessThan(0.05 ** 2 / 12);
				},
			),
			{ seed: 1, numRuns: 15 },
		);
	});

	it("take a step without allocating", () => {
		const { rig, body, own, run } = hung({ dampingNSecPerM: 5 });
		run(1);
		const steps = (): void => {
			for (let i = 0; i < 5000; i++) rig.step(body.kernel, body.x, body.u, body.air, body.outside, own);
		};
		// One boxed number a step would be 80 kB.
		expect(leastAllocatedBytes(6, steps)).toBeLessThan(2000);
	});
});
