import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { diagonal } from "../../src/math/mat3.ts";
import type { Vec3 } from "../../src/math/types.ts";
import { createGround, type Ground } from "../../src/physics/ground.ts";
import { downhill, type GroundSpec, LEVEL_GROUND } from "../../src/physics/ground-spec.ts";
import { bodyRates, WORK_STEP } from "../../src/physics/kernel-layout.ts";
import type { Plant } from "../../src/physics/plant.ts";
import { anyFall, letFall, mostGrowth } from "../fixtures/falls.ts";
import { FEET, GRAVITY } from "../fixtures/limb-ground.ts";
import { type Body, bareBody, bodyOf } from "../fixtures/plant.ts";

const INERTIA: Vec3 = [0.01, 0.011, 0.018];
const heavy = (inertia = INERTIA): Plant =>
	bareBody(inertia, { gravityMPerSec2: GRAVITY, centreOfMassM: [0, 0, 0] });

function settled(spec: Partial<GroundSpec>, feet = FEET, plant = heavy()) {
	const ground = createGround(plant, feet, { ...LEVEL_GROUND, ...spec });
	const body = bodyOf(plant, [0, 0, 0]);
	const own = new Float64Array(ground.ownLength);
	const run = (sec: number, each?: () => void, h = 0.001): void => {
		for (let i = 0; i < Math.round(sec / h); i++) {
			body.kernel.work[WORK_STEP] = h;
			ground.step(body.kernel, body.x, body.u, body.air, body.outside, own);
			each?.();
		}
	};
	return { ground, body, own, run, plant };
}

function energy(ground: Ground, { kernel, x }: Body, own: Float64Array, inertia: Vec3): number {
	const w = new Float64Array(3);
	bodyRates(kernel, x, w);
	const turning = inertia.reduce((sum, j, i) => sum + 0.5 * j * w[i]! ** 2, 0);
	const moving = 0.5 * (x[3]! ** 2 + x[4]! ** 2 + x[5]! ** 2);
	return moving + turning - GRAVITY * x[2]! + ground.stored(kernel, x, own);
}

describe("a mass dropped on one foot", () => {
	// m d'' + c d' + k d = m g from d = 0 at speed v (any text on mechanics of vibrations, from memory).
	it("sinks and comes to its lowest as the damped spring says", () => {
		const { body, run } = settled({ sinkM: 0.01, dampingRatio: 0.2 }, [[0, 0, 0.15]]);
		// Begun a picometre in: at the instant of touching the order of the method falls.
		body.x[2] = -0.15 + 1e-12;
		body.x[5] = 0.5;
		const wn = Math.sqrt(GRAVITY / 0.01);
		const zeta = 0.2;
		const wd = wn * Math.sqrt(1 - zeta * zeta);
		const rest = 0.01;
		const a = -rest;
		const b = (0.5 + zeta * wn * a) / wd;
		const sink = (t: number) =>
			rest + Math.exp(-zeta * wn * t) * (a * Math.cos(wd * t) + b * Math.sin(wd * t));
		let worst = 0;
		let t = 0;
		run(0.06, () => {
			t += 0.001;
			worst = Math.max(worst, Math.abs(body.x[2]! + 0.15 - sink(t)));
		});
		// Fourth order at 0.05 rad a sub-step: 1e-6 of the amplitude.
		expect(worst).toBeLessThan(1e-7);
		expect(Math.abs(sink(0.06) - rest)).toBeGreaterThan(1e-3);
	});
});

describe("the inclined plane", () => {
	it("stays below atan(mu): at rest to 1e-9 m", () => {
		const { ground, body, own, run } = settled({ slopeRad: Math.atan(0.59), friction: 0.6 });
		expect(ground.rest(body.x, own)).toBe("");
		const start = body.x.slice();
		run(2);
		for (let i = 0; i < 3; i++) expect(Math.abs(body.x[i]! - start[i]!)).toBeLessThan(1e-9);
	});
	it.each([
		[0.7, 0.6],
		[0.5, 0.2],
	])("slides at %f rad with friction %f by g (sin a - mu cos a)", (slopeRad, friction) => {
		const spec = { ...LEVEL_GROUND, slopeRad, friction, downhillHeadingRad: 0.8 };
		const { ground, body, own, run } = settled(spec);
		expect(ground.rest(body.x, own)).toBe("");
		const speed = () => downhill(spec).reduce((sum, v, i) => sum + v * body.x[3 + i]!, 0);
		run(0.5);
		const before = speed();
		run(0.5);
		expect((speed() - before) / 0.5).toBeCloseTo(
			GRAVITY * (Math.sin(slopeRad) - friction * Math.cos(slopeRad)),
			3,
		);
	});
});

describe("standing", () => {
	it.each([0, 0.087, 0.3])("rests without a motion of 1e-9 m for 2 s at %f rad", (slopeRad) => {
		const plant = bareBody(INERTIA, { gravityMPerSec2: GRAVITY, centreOfMassM: [0.02, -0.01, 0.01] });
		const { ground, body, own, run } = settled({ slopeRad, downhillHeadingRad: 2 }, FEET, plant);
		expect(ground.rest(body.x, own)).toBe("");
		const start = body.x.slice();
		let worst = 0;
		run(2, () => {
			for (let i = 0; i < 13; i++) worst = Math.max(worst, Math.abs(body.x[i]! - start[i]!));
		});
		expect(worst).toBeLessThan(1e-9);
	});
	it("stands up to the angle of half track over height, no further", () => {
		// Centre of mass 0.15 over feet 0.1 out: atan(0.1/0.15) = 33.7 degrees, less what the downhill springs give (0.2 mm).
		const most = Math.atan(0.1 / 0.15);
		const stands = (slopeRad: number): string => {
			const { ground, body, own } = settled({ slopeRad, sinkM: 0.0002, friction: 2 });
			return ground.rest(body.x, own);
		};
		expect(stands(most - 0.01)).toBe("");
		expect(stands(most + 0.01)).toMatch(/does not stand on its feet on a slope of 34.3 degrees/);
	});
	it("a held foot pulls until its hold, then lets go", () => {
		const { ground, body, own, run } = settled({});
		ground.rest(body.x, own);
		ground.holdFoot(own, 1, 4);
		body.outside[5] = -13;
		let pulled = 0;
		run(0.5, () => {
			pulled = Math.max(pulled, own[4 + 5 + 4]!);
		});
		expect(pulled).toBe(4);
		body.outside[5] = -16;
		run(0.5);
		expect(own[4 + 5 + 4]).toBe(0);
		expect(() => ground.holdFoot(own, 4, 1)).toThrow("stuckFoot: foot 4, expected 0 to 3");
	});
});

describe("energy", () => {
	it("never grows, whatever falls on whatever slope", () => {
		const anySize = fc.double({ min: 0.3, max: 3, noNaN: true });
		fc.assert(
			fc.property(anyFall, anySize, (fall, size) => {
				const inertia: Vec3 = [0.01 * size, 0.011 * size, 0.018 * size];
				const { ground, body, own, run } = settled(fall.spec, FEET, heavy(inertia));
				letFall(body, fall, diagonal(...inertia), 0.3);
				const grown = mostGrowth(
					() => energy(ground, body, own, inertia),
					(each) => run(0.6, each),
				);
				expect(grown).toBeLessThan(1e-6);
			}),
			{ numRuns: 60, seed: 11 },
		);
	});
});
