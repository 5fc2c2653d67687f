import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { NOMINAL_POINT } from "../../src/craft/model.ts";
import { letGo, takeUp } from "../../src/flight/load-change.ts";
import * as mat3 from "../../src/math/mat3.ts";
import * as quaternion from "../../src/math/quaternion.ts";
import type { Quat, Vec3 } from "../../src/math/types.ts";
import * as vec3 from "../../src/math/vec3.ts";
import { bodyRates } from "../../src/physics/kernel-layout.ts";
import { plantWithLoads } from "../../src/physics/plant-at.ts";
import { loadDocument } from "../../src/scenario/load.ts";
import { bodyOf } from "../fixtures/plant.ts";

const demo = JSON.parse(readFileSync(new URL("../../scenarios/sandpiper.json", import.meta.url), "utf8"));
const num = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const vec = (size: number) => fc.tuple(num(-size, size), num(-size, size), num(-size, size));
const part = (x: Float64Array, at: number): Vec3 => [x[at]!, x[at + 1]!, x[at + 2]!];

/** A document with other masses, places and load. */
const document = fc
	.record({
		batteryKg: num(0.2, 1),
		battery: vec(0.08),
		propellerKg: num(0.005, 0.05),
		loadKg: num(0.05, 1.5),
		load: vec(0.2),
		size: num(0.02, 0.2),
	})
	.map((r) => ({
		...demo,
		craft: {
			...demo.craft,
			parts: demo.craft.parts.map((p: { name: string }) =>
				p.name === "battery" ? { ...p, mass: r.batteryKg, position: r.battery } : p,
			),
			propeller: { ...demo.craft.propeller, mass: r.propellerKg },
			load: { mass: r.loadKg, position: r.load, size: r.size },
		},
	}));

describe("a load with an inertia of its own, on any craft that a scenario describes", () => {
	it("is taken up and let go with linear and angular momentum kept, spinning rotors included", () => {
		fc.assert(
			fc.property(
				document,
				vec(3),
				vec(5),
				vec(2),
				vec(1),
				fc.array(num(0, 800), { minLength: 4, maxLength: 4 }),
				(doc, rates, velocity, place, euler, speeds) => {
					const loaded = loadDocument(doc);
					if (!loaded.ok) throw new Error(loaded.errors.map((e) => e.message).join("; "));
					const { craft } = loaded.scenario;
					const { massKg, positionM, inertiaKgM2 } = craft.load;
					expect(inertiaKgM2[0]).toBeGreaterThan(0);
					const light = plantWithLoads(craft, NOMINAL_POINT, []);
					const heavy = plantWithLoads(craft, NOMINAL_POINT, [{ massKg, positionM }]);
					const { x, kernel } = bodyOf(light, rates, speeds);
					x.set(place, 0);
					x.set(velocity, 3);
					x.set(quaternion.fromEuler(euler), 6);
					const attitude = quaternion.toMatrix(Array.from(x.slice(6, 10)) as unknown as Quat);
					const toWorld = (v: Vec3): Vec3 => mat3.times(attitude, v);
					const linear = (kg: number): Vec3 => vec3.scale(part(x, 3), kg);
					/** About the world's origin. */
					const angular = (kg: number): Vec3 =>
						vec3.add(toWorld(part(x, 10)), vec3.scale(vec3.cross(part(x, 0), part(x, 3)), kg));
					const before = { linear: linear(light.massKg), angular: angular(light.massKg) };
					const scale = 1 + vec3.length(before.linear) + vec3.length(before.angular);
					const near = (a: Vec3, b: Vec3): void =>
						expect(vec3.length(vec3.subtract(a, b)) / scale).toBeLessThan(1e-12);

					takeUp(light, heavy, massKg, positionM, x);
					near(linear(heavy.massKg), before.linear);
					near(angular(heavy.massKg), before.angular);

					const both = bodyOf(heavy, [0, 0, 0]).kernel;
					const out = new Float64Array(3);
					bodyRates(both, x, out);
					const spin: Vec3 = [out[0]!, out[1]!, out[2]!];
					const arm = vec3.subtract(positionM, heavy.centreOfMassM);
					const loadVelocity = vec3.add(part(x, 3), toWorld(vec3.cross(spin, arm)));
					const loadPlace = vec3.add(part(x, 0), toWorld(arm));
					const loadAngular = vec3.add(
						toWorld(mat3.times(inertiaKgM2, spin)),
						vec3.scale(vec3.cross(loadPlace, loadVelocity), massKg),
					);
					letGo(heavy, light, spin, x);
					near(vec3.add(linear(light.massKg), vec3.scale(loadVelocity, massKg)), before.linear);
					near(vec3.add(angular(light.massKg), loadAngular), before.angular);
					// What is left goes on turning as it did.
					bodyRates(kernel, x, out);
					near([out[0]!, out[1]!, out[2]!], spin);
				},
			),
			{ numRuns: 60, seed: 21 },
		);
	});
});
