import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { fromEuler } from "../../src/math/quaternion.ts";
import type { Vec3 } from "../../src/math/types.ts";
import { step } from "../../src/physics/kernel.ts";
import { bodyRates, ROTORS, setBodyRates, WORK_STEP } from "../../src/physics/kernel-layout.ts";
import { createPivotRig, pivotInertia } from "../../src/physics/pivot-rig.ts";
import type { Plant } from "../../src/physics/plant.ts";
import type { PivotSpec } from "../../src/physics/rig-spec.ts";
import { leastAllocatedBytes } from "../fixtures/allocated-bytes.ts";
import { bareBody, bodyOf, samplePlant } from "../fixtures/plant.ts";

const G = 9.80665;
const INERTIA: Vec3 = [0.01, 0.011, 0.018];
const heavy = (change: Partial<Plant> = {}): Plant =>
	bareBody(INERTIA, { gravityMPerSec2: G, centreOfMassM: [0, 0, 0], ...change });

const LOOSE: PivotSpec = {
	kind: "pivot",
	axis: "roll",
	throughM: [0, 0, -0.08],
	addedInertiaKgM2: 0.002,
	frictionNmSec: 0,
	startAngleRad: 0.1,
	stopAngleRad: null,
};
const AXIS = { roll: 0, pitch: 1, yaw: 2 } as const;

function onRig(change: Partial<PivotSpec> = {}, plant = heavy()) {
	const spec = { ...LOOSE, ...change };
	const rig = createPivotRig(plant, spec);
	const body = bodyOf(plant, [0, 0, 0]);
	const own = new Float64Array(rig.ownLength);
	rig.hold(body.kernel, body.x, own);
	const rates = new Float64Array(3);
	const axis = AXIS[spec.axis];
	const run = (sec: number, each?: () => void, h = 0.001): void => {
		for (let i = 0; i < Math.round(sec / h); i++) {
			body.kernel.work[WORK_STEP] = h;
			rig.step(body.kernel, body.x, body.u, body.air, body.outside, own);
			each?.();
		}
	};
	const angle = (): number => 2 * Math.atan2(body.x[7 + axis]!, body.x[6]!);
	const rate = (): number => {
		bodyRates(body.kernel, body.x, rates);
		return rates[axis]!;
	};
	return { rig, body, own, run, angle, rate, plant, spec, axis };
}

/** Complete elliptic integral of the first kind, K(k), by the arithmetic-geometric mean (Abramowitz and Stegun 17.6.3, from memory). */
function ellipticK(k: number): number {
	let a = 1;
	let b = Math.sqrt(1 - k * k);
	for (let i = 0; i < 20; i++) [a, b] = [(a + b) / 2, Math.sqrt(a * b)];
	return Math.PI / (2 * a);
}

/** From release to the second passing through 0 is three quarters of a period. */
function flownPeriod(run: ReturnType<typeof onRig>): number {
	let before = run.angle();
	let t = 0;
	const passes: number[] = [];
	run.run(4, () => {
		const now = run.angle();
		// Cubic through both ends with their rates would be finer still; a secant errs by the curvature, h^2.
		if (before !== 0 && now * before < 0) passes.push(t + (0.001 * before) / (before - now));
		before = now;
		t += 0.001;
	});
	return 2 * (passes[1]! - passes[0]!);
}

describe("the physical pendulum", () => {
	// T = 2 pi sqrt(I/(m g d)) small, times 2 K(sin(A/2))/pi at amplitude A (any text on mechanics; Landau & Lifshitz, Mechanics, par. 11, from memory).
	it.each([
		["roll", [0, 0, -0.08], 0.001],
		["roll", [0, 0, -0.08], 0.5],
		["pitch", [0, 0, -0.08], 0.5],
		["pitch", [0.02, 0.5, -0.12], 0.001],
		["roll", [0, 0, -0.08], 1.4],
	] as const)("about %s through %j at %f rad keeps its period", (axis, throughM, swing) => {
		const offset = axis === "roll" ? throughM[1] : throughM[0];
		const d = Math.hypot(offset, throughM[2]);
		// A pivot off to the side hangs at an angle: amplitude is counted from there. Pitch: the middle hangs under at atan(x/z).
		const rest = axis === "pitch" ? Math.atan2(offset, -throughM[2]) : 0;
		const run = onRig({ axis, throughM, startAngleRad: rest + swing });
		const { whole } = pivotInertia(run.plant, run.spec);
		expect(whole).toBeCloseTo(INERTIA[AXIS[axis]] + d * d + 0.002, 12);
		const small = 2 * Math.PI * Math.sqrt(whole / (1 * G * d));
		const expected = (small * 2 * ellipticK(Math.sin(swing / 2))) / Math.PI;
		const shifted = { ...run, angle: () => run.angle() - rest };
		expect(flownPeriod(shifted) / expected).toBeCloseTo(1, 6);
	});

	it("dies out with friction as the damped swing does", () => {
		// theta = A exp(-z w t)(cos wd t + z/sqrt(1-z^2) sin wd t), small amplitude (any text on vibrations).
		const swing = 1e-4;
		const run = onRig({ frictionNmSec: 0.01, startAngleRad: swing });
		const { whole } = pivotInertia(run.plant, run.spec);
		const w = Math.sqrt((G * 0.08) / whole);
		const z = 0.01 / (2 * whole * w);
		const wd = w * Math.sqrt(1 - z * z);
		let t = 0;
		let worst = 0;
		run.run(3, () => {
			t += 0.001;
			const closed =
				swing * Math.exp(-z * w * t) * (Math.cos(wd * t) + (z / Math.sqrt(1 - z * z)) * Math.sin(wd * t));
			worst = Math.max(worst, Math.abs(run.angle() - closed));
		});
		// sin and its angle differ by A^2/6 of A.
		expect(worst).toBeLessThan(1e-8 * swing);
		expect(z).toBeGreaterThan(0.02);
	});

	it("turns alone as friction lets it, about yaw", () => {
		const run = onRig({ axis: "yaw", throughM: [0, 0, 0], frictionNmSec: 0.05, startAngleRad: 0 });
		setBodyRates(run.body.kernel, run.plant.inertiaKgM2, run.body.x, [0, 0, 2]);
		run.run(0.5);
		expect(run.rate()).toBeCloseTo(2 * Math.exp((-0.05 * 0.5) / (0.018 + 0.002)), 10);
	});
});

describe("what never happens on a pivot", () => {
	it("is energy from nothing, or a way off the pivot", () => {
		fc.assert(
			fc.property(
				fc.constantFrom("roll" as const, "pitch" as const),
				fc.double({ min: -0.2, max: 0.2, noNaN: true }),
				fc.double({ min: -0.2, max: 0.2, noNaN: true }),
				fc.double({ min: -1.4, max: 1.4, noNaN: true }),
				fc.option(fc.double({ min: 0.2, max: 1.5, noNaN: true })),
				(axis, side, up, start, stop) => {
					const throughM: Vec3 = axis === "roll" ? [0, side, up] : [side, 0, up];
					const stopAngleRad = stop;
					const startAngleRad = stop === null ? start : Math.max(-stop, Math.min(stop, start));
					const run = onRig({ axis, throughM, startAngleRad, stopAngleRad });
					const { whole } = pivotInertia(run.plant, run.spec);
					const energy = () => 0.5 * whole * run.rate() ** 2 - G * run.body.x[2]!;
					let last = energy();
					const first = last;
					let gained = 0;
					let off = 0;
					let beyond = 0;
					run.run(2, () => {
						const now = energy();
						gained = Math.max(gained, now - last);
						last = now;
						if (stop !== null) beyond = Math.max(beyond, Math.abs(run.angle()) - stop);
						// Distance of the middle from the pivot, in the plane that it swings in.
						const sideways = axis === "roll" ? run.body.x[1]! - side : run.body.x[0]! - side;
						off = Math.max(off, Math.abs(Math.hypot(sideways, run.body.x[2]! - up) - Math.hypot(side, up)));
					});
					expect(gained).toBeLessThan(1e-9);
					expect(off).toBeLessThan(1e-12);
					expect(beyond).toBeLessThan(1e-12);
					if (stop === null) expect(Math.abs(last - first)).toBeLessThan(1e-8);
				},
			),
			{ seed: 1, numRuns: 25 },
		);
	});

	it("is a bounce at the stop", () => {
		const run = onRig({ throughM: [0, 0, 0.08], startAngleRad: 0.01, stopAngleRad: 0.6 });
		let struck = false;
		run.run(4, () => {
			if (run.angle() > 0.6 - 1e-12) struck = true;
			if (struck) {
				expect(run.angle()).toBeCloseTo(0.6, 12);
				expect(Math.abs(run.rate())).toBeLessThan(1e-12);
			}
		});
		expect(struck).toBe(true);
	});
});

describe("a pivot through the middle that adds nothing", () => {
	it("leaves the craft to turn about it as in the air", () => {
		// Without friction, added inertia or an arm the only difference is the sideways drift, which a symmetric craft in a void does not feel.
		const plant = samplePlant({ airDensityKgM3: 0, groundEffect: false });
		const still: Plant = {
			...plant,
			rotors: plant.rotors.map((r) => ({ ...r, inflowCoefficient: 0, inPlaneDragCoefficient: 0 })),
		};
		for (const axis of ["roll", "pitch", "yaw"] as const) {
			const i = AXIS[axis];
			const free = bodyOf(still, [0, 0, 0], [400, 400, 400, 400]);
			const run = onRig(
				{ axis, throughM: still.centreOfMassM, addedInertiaKgM2: 0, startAngleRad: 0 },
				still,
			);
			run.body.x.set(free.x.subarray(ROTORS), ROTORS);
			run.rig.hold(run.body.kernel, run.body.x, run.own);
			const thrust = [24, 25.5, 26, 24.5];
			for (const body of [free, run.body]) {
				body.u.set(thrust);
				if (axis === "roll") body.u.set([24, 24, 26, 26]);
				if (axis === "pitch") body.u.set([26, 24, 24, 26]);
				if (axis === "yaw") body.u.set([26, 24, 26, 24]);
			}
			const rates = new Float64Array(3);
			let worst = 0;
			let most = 0;
			for (let k = 0; k < 300; k++) {
				step(free.kernel, free.x, free.u, free.air, free.outside, 0.001);
				run.run(0.001);
				bodyRates(free.kernel, free.x, rates);
				worst = Math.max(worst, Math.abs(rates[i]! - run.rate()));
				most = Math.max(most, Math.abs(rates[i]!));
			}
			expect(most).toBeGreaterThan(0.1);
			expect(worst / most, axis).toBeLessThan(1e-9);
		}
	});
});

describe("a load on a pivot", () => {
	it("taken up at rest slows the turning, let go does not", () => {
		const light = heavy();
		const loaded = heavy({ massKg: 1.5, inertiaKgM2: [0.014, 0, 0, 0, 0.015, 0, 0, 0, 0.02] });
		const run = onRig({ axis: "yaw", throughM: [0, 0.1, 0], startAngleRad: 0 }, light);
		setBodyRates(run.body.kernel, light.inertiaKgM2, run.body.x, [0, 0, 2]);
		run.run(0.01);
		const before = run.rate();
		expect(before).toBeCloseTo(2, 12);
		run.rig.reload(loaded);
		run.body.kernel.p.set(bodyOf(loaded, [0, 0, 0]).kernel.p);
		run.run(0.01);
		const heavier = pivotInertia(loaded, run.spec).whole;
		expect(run.rate()).toBeCloseTo((2 * pivotInertia(light, run.spec).whole) / heavier, 12);
		run.rig.reload(light);
		run.body.kernel.p.set(bodyOf(light, [0, 0, 0]).kernel.p);
		const slowed = (2 * pivotInertia(light, run.spec).whole) / heavier;
		run.run(0.01);
		expect(run.rate()).toBeCloseTo(slowed, 12);
	});
});

describe("an estimator on a pivot", () => {
	it("that leans on gravity sees the true tilt at rest, since the bearing carries the craft", () => {
		const run = onRig({ throughM: [0, 0, 0], startAngleRad: 0.3 });
		const p = run.body.kernel.p;
		p[18] = 1 / 0.4;
		expect(run.body.x.slice(6, 10)).toEqual(Float64Array.from(fromEuler([0.3, 0, 0])));
		run.run(1);
		expect(Math.abs(run.body.x[16]!)).toBeLessThan(1e-12);
	});
});

it("a step allocates nothing", () => {
	const run = onRig({ frictionNmSec: 0.01 });
	run.run(2);
	const { rig, body, own } = run;
	const steps = (): void => {
		for (let i = 0; i < 20000; i++) rig.step(body.kernel, body.x, body.u, body.air, body.outside, own);
	};
	// One boxed number a step would be 320 kB.
	expect(leastAllocatedBytes(6, steps)).toBeLessThan(2000);
});
