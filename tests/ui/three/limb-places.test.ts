import { describe, expect, it } from "vitest";
import sandpiper from "../../../scenarios/sandpiper.json";
import type { Craft } from "../../../src/craft/model.ts";
import * as mat3 from "../../../src/math/mat3.ts";
import type { Vec3 } from "../../../src/math/types.ts";
import * as vec3 from "../../../src/math/vec3.ts";
import { loadDocument } from "../../../src/scenario/load.ts";
import { fixedParts, limbPlaces, limbReachM, loadPlace } from "../../../src/ui/three/limb-places.ts";

const loaded = loadDocument(sandpiper);
if (!loaded.ok) throw new Error(loaded.errors[0]!.message);
const { craft, parts } = loaded.scenario;
const QUARTER = Math.PI / 2;
const close = (a: Vec3, b: Vec3) => expect(vec3.length(vec3.subtract(a, b))).toBeLessThan(1e-12);

describe("places of the limb", () => {
	it("folded, links stand where the file puts them", () => {
		const { tubes, gripM } = limbPlaces(craft, [0, 0]);
		close(tubes[0]!.fromM, [0.045, 0, 0.06]);
		close(tubes[0]!.toM, [-0.165, 0, 0.06]);
		close(tubes[1]!.toM, [-0.165, 0, 0.095]);
		close(gripM, [-0.165, 0, 0.075]);
		expect(tubes.map(({ radiusM }) => radiusM)).toEqual([0.007, 0.03]);
	});
	it("a quarter turn hangs the boom straight down, and what is held turns with it", () => {
		const { tubes, gripM } = limbPlaces(craft, [QUARTER, 0]);
		close(tubes[0]!.toM, [0.045, 0, 0.27]);
		close(tubes[1]!.toM, [0.08, 0, 0.27]);
		const held = loadPlace(
			craft,
			{ massKg: 0.3, positionM: craft.limb!.gripM, inGrip: true },
			[QUARTER, 0],
			[0, 0, 1],
		);
		close(held.middleM, gripM);
		close(
			[held.turn[2], held.turn[5], held.turn[8]],
			vec3.scale(vec3.subtract(tubes[1]!.toM, tubes[1]!.fromM), 1 / 0.035),
		);
	});
	it("pins lie along the hinges, no thicker than the thinner link asks", () => {
		for (const { fromM, toM, radiusM } of limbPlaces(craft, [1, -1]).pins) {
			const along = vec3.subtract(toM, fromM);
			expect(Math.abs(along[1])).toBeCloseTo(vec3.length(along), 12);
			expect(radiusM).toBeLessThan(0.01);
		}
	});
	it("a load that no limb holds stays; on a tether it hangs along down", () => {
		const fixed = { massKg: 0.3, positionM: [0, 0, 0.09] as Vec3 };
		close(loadPlace(craft, fixed, [1, 0], [0, 0, 1]).middleM, [0, 0, 0.09]);
		const tethered: Craft = {
			...craft,
			load: { ...craft.load, tether: { lengthM: 0.5, dampingRatio: 0.01 } },
		};
		close(loadPlace(tethered, fixed, [1, 0], [0.6, 0, 0.8]).middleM, [0.3, 0, 0.49]);
	});
	it("what hangs turns with its cord, and a sloshing liquid's level stands square to its pendulum", () => {
		const fixed = { massKg: 0.3, positionM: [0, 0, 0.09] as Vec3 };
		const hang: Vec3 = [0.48, -0.36, 0.8];
		const tether = { lengthM: 0.5, dampingRatio: 0.01 };
		const liquid = { lengthM: 0.05, share: 0.5, dampingRatio: 0.02 };
		const hung = loadPlace({ ...craft, load: { ...craft.load, tether } }, fixed, [0, 0], hang);
		const slosh = loadPlace({ ...craft, load: { ...craft.load, liquid } }, fixed, [0, 0], hang);
		for (const turn of [hung.turn, slosh.level!]) {
			close(mat3.times(turn, [0, 0, 1]), hang);
			expect(mat3.determinant(turn)).toBeCloseTo(1, 12);
			close(mat3.times(mat3.transpose(turn), mat3.times(turn, [0.1, 0.2, 0.3])), [0.1, 0.2, 0.3]);
			// About a level axis across the swing: that axis stays.
			close(mat3.times(turn, [0.6, 0.8, 0]), [0.6, 0.8, 0]);
		}
		expect(hung.level).toBeNull();
		close(slosh.middleM, fixed.positionM);
		close(
			loadPlace({ ...craft, load: { ...craft.load, tether } }, fixed, [0, 0], [0, 0, -1]).middleM,
			[0, 0, -0.41],
		);
	});
	it("reaches as far as its links laid end to end", () => {
		expect(limbReachM(craft, [0, 0, 0])).toBeCloseTo(0.075 + 0.21 + 0.035, 12);
	});
	it("leaves parts that move with a link to the link", () => {
		const names = fixedParts(parts, sandpiper).map(({ name }) => name);
		expect(names).toContain("limb: hinge servo");
		expect(names).not.toContain("limb: scoop");
		expect(names).toHaveLength(parts.length - 2);
		expect(fixedParts(parts, {})).toBe(parts);
	});
	it("refuses a craft without a limb", () => {
		const { limb: _, ...none } = craft;
		expect(() => limbPlaces(none, [])).toThrow("craft.limb");
	});
});
