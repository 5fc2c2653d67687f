import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Vec3 } from "../../src/math/types.ts";
import * as vec3 from "../../src/math/vec3.ts";
import type { JointDrive } from "../../src/physics/joint-drives.ts";
import type { TreeBody } from "../../src/physics/joint-tree.ts";
import { body, limbBody, servo, sumsOf } from "../fixtures/limb.ts";

const num = (min: number, max: number) => fc.double({ min, max, noNaN: true, noDefaultInfinity: true });
const vec = (size: number) => fc.tuple(num(-size, size), num(-size, size), num(-size, size));

const link = fc.record({
	parent: fc.nat(10),
	hinge: vec(0.2),
	axis: vec(1),
	centre: vec(0.1),
	mass: num(0.02, 0.4),
	size: num(0.02, 0.1),
	start: num(-1.5, 1.5),
	target: num(-1.5, 1.5),
	kind: fc.constantFrom("servo", "soft", "hanging", "weak"),
});

const driveOf = (kind: string): JointDrive => {
	if (kind === "hanging") return { kind, dampingNmSecPerRad: 1e-3 };
	if (kind === "soft")
		return { ...servo(), kind, stiffnessNmPerRad: 3, dampingNmSecPerRad: 0.02, backlashRad: 0 };
	return servo({ rateLimitRadPerSec: 1e3, torqueLimitNm: kind === "weak" ? 0.02 : Number.POSITIVE_INFINITY });
};

describe("a craft with moving joints in free fall", () => {
	it("keeps linear and angular momentum to 1e-9 over random trees, drives and motions", () => {
		fc.assert(
			fc.property(fc.array(link, { minLength: 1, maxLength: 4 }), vec(2), (links, rates) => {
				fc.pre(links.every(({ axis }) => vec3.length(axis) > 0.1));
				const bodies = links.map(
					({ parent, hinge, axis, centre, mass, size }, i): TreeBody => ({
						parent: i === 0 ? -1 : (parent % (i + 1)) - 1,
						hingeM: hinge,
						axis: vec3.scale(axis, 1 / vec3.length(axis)),
						mass: body(mass, vec3.add(hinge, centre), [
							mass * size ** 2,
							1.2 * mass * size ** 2,
							0.9 * mass * size ** 2,
						]),
					}),
				);
				const tree = { frame: body(1.3, [0.01, -0.02, 0.005], [0.015, 0.017, 0.026]), bodies };
				const craft = limbBody(
					tree,
					links.map(({ kind }) => driveOf(kind)),
					links.map(({ start }) => start),
					rates,
				);
				links.forEach(({ kind, target }, i) => {
					if (kind !== "hanging") craft.stepper.aim(craft.own, i, target);
				});
				const before = sumsOf(craft);
				craft.advance(0.4, 5e-4);
				const after = sumsOf(craft);
				const size = vec3.length(before.angular) + 0.01;
				const off = (a: Vec3, b: Vec3): number => vec3.length(vec3.subtract(a, b));
				expect(off(after.angular, before.angular)).toBeLessThan(1e-9 * size);
				expect(off(after.linear, before.linear)).toBeLessThan(1e-9);
			}),
			{ seed: 20261125, numRuns: 40 },
		);
	});
});
