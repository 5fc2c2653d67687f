import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Limb } from "../../src/craft/limb-model.ts";
import { linkPlaces } from "../../src/craft/limb-pose.ts";
import { combineBodies } from "../../src/craft/mass.ts";
import type { Craft, Load } from "../../src/craft/model.ts";
import { NOMINAL_POINT } from "../../src/craft/model.ts";
import { type Drill, STILL_AIR } from "../../src/flight/drill.ts";
import { createLimbFlight } from "../../src/flight/limb-flight.ts";
import * as mat3 from "../../src/math/mat3.ts";
import { toMatrix } from "../../src/math/quaternion.ts";
import type { Quat, Vec3 } from "../../src/math/types.ts";
import * as vec3 from "../../src/math/vec3.ts";
import { JOINT } from "../../src/physics/joint-drives.ts";
import type { JointTree } from "../../src/physics/joint-tree.ts";
import { type CarriedLoad, limbTree, loadBody } from "../../src/physics/limb-tree.ts";
import { plantWithLoads } from "../../src/physics/plant-at.ts";
import { sampleCraft } from "../fixtures/craft.ts";
import { body, sumsOf } from "../fixtures/limb.ts";
import { bodyOf } from "../fixtures/plant.ts";

const num = (min: number, max: number) => fc.double({ min, max, noNaN: true, noDefaultInfinity: true });
const vec = (size: number) => fc.tuple(num(-size, size), num(-size, size), num(-size, size));
const ATTITUDE: Quat = [0.5, 0.5, -0.5, 0.5];
const TURN = toMatrix(ATTITUDE);
const dot = (a: Vec3, b: Vec3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const far = (a: Vec3, b: Vec3): number => vec3.length(vec3.subtract(a, b));

const link = fc.record({
	step: vec(0.15),
	axis: fc.constantFrom<Vec3>([0, 1, 0], [1, 0, 0], [0.6, 0, 0.8], [0, 0.28, 0.96]),
	mass: num(0.02, 0.3),
	angle: num(-1.5, 1.5),
	speed: num(-4, 4),
	soft: fc.boolean(),
});
const swing = fc.constantFrom<Pick<Load, "tether" | "liquid">>(
	{},
	{ tether: { lengthM: 0.35, dampingRatio: 0.01 } },
	{ liquid: { share: 0.4, lengthM: 0.08, dampingRatio: 0.02 } },
);
const anyCase = fc.record({
	links: fc.array(link, { minLength: 1, maxLength: 3 }),
	swing,
	inGrip: fc.boolean(),
	loadKg: num(0.05, 1),
	offset: vec(0.05),
	rates: vec(3),
	velocity: vec(4),
	place: vec(2),
	swingSpeeds: fc.tuple(num(-3, 3), num(-3, 3)),
	down: fc.constantFrom<Vec3>([0, 0, 1], [0.28, 0, 0.96], [0, -0.6, 0.8]),
	rotors: fc.array(num(0, 700), { minLength: 4, maxLength: 4 }),
});
type Case = typeof anyCase extends fc.Arbitrary<infer T> ? T : never;

function craftOf({ links, swing: hangs, inGrip, offset }: Case): Craft {
	const frame = body(1.5, [0.01, -0.01, 0.02], [0.015, 0.017, 0.026]);
	let at: Vec3 = [0.02, 0.01, 0.05];
	const made = links.map(({ step, axis, mass, soft }, i) => {
		const hingeM = at;
		at = vec3.add(at, vec3.add(step, [0.05, 0, 0]));
		return {
			name: `link ${i}`,
			hingeM,
			axis,
			tipM: at,
			diameterM: 0.02,
			dragAreaM2: 0.002,
			mass: body(mass, vec3.scale(vec3.add(hingeM, at), 0.5), [4e-4, 5e-4, 3e-4]),
			travelRad: [-3, 3] as const,
			servo: {
				rateLimitRadPerSec: 6,
				torqueLimitNm: 3,
				naturalRadPerSec: 20,
				dampingRatio: 0.9,
				stiffnessNmPerRad: soft ? 5 : null,
				backlashRad: 0,
				jitterRad: 0,
				jitterHz: 10,
				stallCurrentA: 1,
			},
		};
	});
	const limb: Limb = { links: made, frame, gripM: at, gripRadiusM: 0.02 };
	return sampleCraft({
		bare: combineBodies([frame, ...made.map(({ mass }) => mass)]),
		limb,
		load: {
			massKg: 0.6,
			positionM: inGrip ? vec3.add(at, offset) : [0.02, 0, 0.12],
			inertiaKgM2: [2e-4, 0, 0, 0, 3e-4, 0, 0, 0, 2.5e-4],
			...(inGrip && { inGrip, gripOffsetM: offset }),
			...hangs,
		},
	});
}

/** The craft in the middle of a motion, with the loads it has, as the flight's own numbers. */
function inMotion(given: Case, loads: readonly CarriedLoad[]) {
	const craft = craftOf(given);
	const point = {
		...NOMINAL_POINT,
		limbRad: given.links.map(({ angle }) => angle),
	};
	const drill: Drill = {
		name: "test",
		about: "",
		durationSec: 1,
		heightM: 10,
		seed: 1,
		events: [{ atSec: 0.5, kind: "takeUp", massKg: 0.1, positionM: [0, 0, 0] }],
		wind: STILL_AIR,
	};
	const flight = createLimbFlight({ craft, point, drill, loads, down: given.down, wired: (p) => p });
	const made = limbTree(craft, loads, point.limbRad, given.down);
	const at = bodyOf(plantWithLoads(craft, point, loads, given.down), given.rates, given.rotors);
	at.x.set([...given.place, ...given.velocity, ...ATTITUDE]);
	const own = new Float64Array(flight.stepper.ownLength);
	flight.begin(at.kernel, own);
	const n = made.tree.bodies.length;
	given.links.forEach(({ speed }, i) => {
		own[JOINT.speed * n + i] = speed;
	});
	for (let i = 0; i < made.hanging; i++)
		own[JOINT.speed * n + given.links.length + i] = given.swingSpeeds[i]!;
	flight.agree(at.kernel, own);
	return { craft, flight, tree: made.tree, own, ...at };
}

/**
 * Frame, links, then the load's bodies, each on its own: what is held firmly is a body with a hinge that stays at 0, where the flight has it as a part of frame or link.
 */
function apart(
	it: { craft: Craft; own: Float64Array },
	load: CarriedLoad | null,
	pose: readonly number[],
	down: Vec3,
) {
	const { tree: bare } = limbTree(it.craft, [], pose, down);
	const n = bare.bodies.length;
	if (!load) return { tree: bare, own: it.own };
	const { tree } = limbTree(it.craft, [load], pose, down);
	const { liquid, tether } = it.craft.load;
	const whole = loadBody(it.craft, load);
	const share = liquid ? 1 - liquid.share : tether ? 0 : 1;
	const firm = {
		parent: load.inGrip ? n - 1 : -1,
		hingeM: load.positionM,
		axis: [0, 0, 1] as Vec3,
		mass: {
			...whole,
			massKg: share * whole.massKg,
			inertiaKgM2: mat3.scale(whole.inertiaKgM2, share),
		},
	};
	const hung = tree.bodies
		.slice(n)
		.map((each) => ({ ...each, parent: each.parent >= n ? each.parent + 1 : each.parent }));
	const bodies = [...bare.bodies, firm, ...hung];
	const own = new Float64Array(2 * bodies.length);
	const all = tree.bodies.length;
	for (let i = 0; i < all; i++) {
		const to = i < n ? i : i + 1;
		own[to] = it.own[i]!;
		own[bodies.length + to] = it.own[all + i]!;
	}
	return { tree: { frame: bare.frame, bodies } satisfies JointTree, own };
}

const loadOf = (craft: Craft, massKg: number): CarriedLoad => ({
	massKg,
	positionM: craft.load.positionM,
	...(craft.load.inGrip && { inGrip: true }),
});
const poseOf = ({ links }: Case): number[] => links.map(({ angle }) => angle);

describe("a load that is taken up while the limb moves", () => {
	it("leaves linear and angular momentum of craft and load as they were, to 1e-9", () => {
		fc.assert(
			fc.property(anyCase, (given) => {
				const it = inMotion(given, []);
				const load = loadOf(it.craft, given.loadKg);
				const before = sumsOf(it);
				const speeds = Array.from(it.own);
				const n = given.links.length;
				it.flight.change(it.kernel, it.x, it.own, [load], true, given.down);
				const after = sumsOf({ ...it, ...apart(it, load, poseOf(given), given.down) });
				const size = vec3.length(before.angular) + 1;
				expect(far(after.angular, before.angular)).toBeLessThan(1e-9 * size);
				expect(far(after.linear, before.linear)).toBeLessThan(1e-9 * size);
				// The airframe stands where it stood; a stiff servo's joint turns as it did.
				expect(far(after.parts[0]!.placeM, before.parts[0]!.placeM)).toBeLessThan(1e-9);
				const all = n + (given.swing.tether || given.swing.liquid ? 2 : 0);
				given.links.forEach(({ angle, soft }, i) => {
					expect(it.own[i]).toBe(angle);
					if (!soft) expect(it.own[all + i]).toBe(speeds[n + i]);
				});
			}),
			{ seed: 20261125, numRuns: 300 },
		);
	});

	it("on a tether is set in motion along the cord only", () => {
		let fastest = 0;
		fc.assert(
			fc.property(anyCase, (given) => {
				const it = inMotion({ ...given, swing: { tether: { lengthM: 0.35, dampingRatio: 0.01 } } }, []);
				Object.assign(it.craft, { load: { ...it.craft.load, inertiaKgM2: mat3.diagonal(0, 0, 0) } });
				const load = loadOf(it.craft, given.loadKg);
				it.flight.change(it.kernel, it.x, it.own, [load], true, given.down);
				const { parts } = sumsOf({ ...it, ...apart(it, load, poseOf(given), given.down) });
				const { velocity } = parts[parts.length - 1]!;
				const across = vec3.cross(velocity, mat3.times(TURN, given.down));
				fastest = Math.max(fastest, vec3.length(velocity));
				expect(vec3.length(across)).toBeLessThan(1e-9 * (1 + vec3.length(velocity)));
			}),
			{ seed: 7, numRuns: 60 },
		);
		expect(fastest).toBeGreaterThan(1);
	});

	it("gives a link behind a spring no moment about its hinge", () => {
		fc.assert(
			fc.property(anyCase, (given) => {
				const links = given.links.map((each) => ({ ...each, soft: true }));
				const it = inMotion({ ...given, links, inGrip: false, swing: {} }, []);
				const load = loadOf(it.craft, given.loadKg);
				fc.pre(Math.hypot(...given.velocity) > 0.1);
				const last = links.length;
				const pose = poseOf(given);
				const before = sumsOf(it).parts;
				it.flight.change(it.kernel, it.x, it.own, [load], true, given.down);
				const after = sumsOf({ ...it, ...apart(it, load, pose, given.down) }).parts;
				const push = vec3.subtract(after[last]!.linear, before[last]!.linear);
				const moment = vec3.subtract(after[last]!.angular, before[last]!.angular);
				const limb = it.craft.limb!;
				const { hingeM, turn } = linkPlaces(limb, pose)[last - 1]!;
				const arm = mat3.times(TURN, vec3.subtract(hingeM, limb.frame.centreOfMassM));
				const about = vec3.subtract(moment, vec3.cross(vec3.add(before[0]!.placeM, arm), push));
				const axis = mat3.times(TURN, mat3.times(turn, limb.links[last - 1]!.axis));
				expect(vec3.length(push)).toBeGreaterThan(1e-6);
				expect(Math.abs(dot(about, axis))).toBeLessThan(1e-9);
			}),
			{ seed: 11, numRuns: 60 },
		);
	});
});

describe("a load that is let go while the limb moves", () => {
	it("leaves with the momentum it has, and the rest goes on, to 1e-9", () => {
		fc.assert(
			fc.property(anyCase, (given) => {
				const load = loadOf(craftOf(given), given.loadKg);
				const it = inMotion(given, [load]);
				const n = given.links.length;
				const kept = it.tree.bodies.length;
				const speeds = Array.from({ length: n }, (_, i) => it.own[kept + i]!);
				const before = sumsOf({ ...it, ...apart(it, load, poseOf(given), given.down) });
				it.flight.change(it.kernel, it.x, it.own, [], false, given.down);
				const after = sumsOf({ ...it, ...apart(it, null, poseOf(given), given.down) });
				const went = before.parts.slice(1 + n);
				const linear = went.reduce<Vec3>((sum, part) => vec3.add(sum, part.linear), after.linear);
				const angular = went.reduce<Vec3>((sum, part) => vec3.add(sum, part.angular), after.angular);
				const size = vec3.length(before.angular) + 1;
				expect(far(linear, before.linear)).toBeLessThan(1e-9 * size);
				expect(far(angular, before.angular)).toBeLessThan(1e-9 * size);
				expect(after.parts).toHaveLength(1 + n);
				after.parts.forEach(({ rates, velocity, placeM }, i) => {
					expect(far(rates, before.parts[i]!.rates)).toBeLessThan(1e-9 * size);
					expect(far(velocity, before.parts[i]!.velocity)).toBeLessThan(1e-9 * size);
					expect(far(placeM, before.parts[i]!.placeM)).toBeLessThan(1e-9);
				});
				for (let i = 0; i < n; i++) expect(it.own[n + i]).toBe(speeds[i]);
			}),
			{ seed: 5, numRuns: 300 },
		);
	});
});
