import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { fromEuler } from "../../src/math/quaternion.ts";
import { groundNormal, LEVEL_GROUND } from "../../src/physics/ground-spec.ts";
import type { JointTree } from "../../src/physics/joint-tree.ts";
import { setBodyRates } from "../../src/physics/kernel-layout.ts";
import { body, CROOKED_LINKS, sumsOf } from "../fixtures/limb.ts";
import { feet, GRAVITY, onGround } from "../fixtures/limb-ground.ts";

const tree: JointTree = {
	frame: body(1.6, [0.01, -0.005, 0.01], [0.016, 0.018, 0.028]),
	bodies: CROOKED_LINKS,
};
const ends = [
	{ body: 0, placeM: CROOKED_LINKS[1]!.hingeM },
	{ body: 1, placeM: [0.32, -0.01, 0.16] as const },
];
const unit = fc.double({ min: -1, max: 1, noNaN: true });

describe("energy of a craft with a limp limb on the ground", () => {
	it("never grows by itself, whatever falls on whatever slope", () => {
		let touchedByEnds = 0;
		fc.assert(
			fc.property(
				fc.tuple(unit, unit, unit),
				fc.tuple(unit, unit, unit),
				fc.tuple(unit, unit, unit),
				fc.tuple(unit, unit),
				fc.record({
					slopeRad: fc.double({ min: 0, max: 0.5, noNaN: true }),
					downhillHeadingRad: fc.double({ min: 0, max: 6, noNaN: true }),
					sinkM: fc.double({ min: 0.001, max: 0.03, noNaN: true }),
					dampingRatio: fc.double({ min: 0.05, max: 1, noNaN: true }),
					friction: fc.double({ min: 0, max: 1.5, noNaN: true }),
				}),
				(angles, rates, speed, joints, spec) => {
					const hanging = { kind: "hanging", dampingNmSecPerRad: 0.002 } as const;
					const at = onGround(tree, [hanging, hanging], [joints[0], joints[1]], [...feet, ...ends], spec);
					at.x.set(fromEuler([0.6 * angles[0], 0.6 * angles[1], 3 * angles[2]]), 6);
					setBodyRates(at.kernel, Array.from(at.stepper.posture.inertia) as never, at.x, rates);
					const n = groundNormal({ ...LEVEL_GROUND, ...spec });
					for (let k = 0; k < 3; k++) {
						at.x[k] = 0.45 * n[k]!;
						at.x[3 + k] = speed[k]!;
					}
					const energy = (): number => {
						const { kinetic } = sumsOf(at);
						return kinetic - at.massKg * GRAVITY * at.x[2]! + at.stored();
					};
					let last = energy();
					let grown = 0;
					at.run(0.6, () => {
						const now = energy();
						grown = Math.max(grown, now - last);
						last = now;
					});
					if (at.ground.contacts.arrivals[4]! >= 0 || at.ground.contacts.arrivals[5]! >= 0) touchedByEnds++;
					expect(grown).toBeLessThan(1e-6);
				},
			),
			{ numRuns: 40, seed: 5 },
		);
		expect(touchedByEnds).toBeGreaterThan(15);
	});
});
