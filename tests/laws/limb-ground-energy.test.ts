import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { JointTree } from "../../src/physics/joint-tree.ts";
import { anyFall, letFall, mostGrowth, unit } from "../fixtures/falls.ts";
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

describe("energy of a craft with a limp limb on the ground", () => {
	it("never grows by itself, whatever falls on whatever slope", () => {
		let touchedByEnds = 0;
		fc.assert(
			fc.property(anyFall, fc.tuple(unit, unit), (fall, joints) => {
				const hanging = { kind: "hanging", dampingNmSecPerRad: 0.002 } as const;
				const at = onGround(tree, [hanging, hanging], joints, [...feet, ...ends], fall.spec);
				letFall(at, fall, Array.from(at.stepper.posture.inertia) as never, 0.45);
				const energy = (): number => sumsOf(at).kinetic - at.massKg * GRAVITY * at.x[2]! + at.stored();
				const grown = mostGrowth(energy, (each) => at.advance(0.6, 1e-3, each));
				if (at.ground.contacts.arrivals[4]! >= 0 || at.ground.contacts.arrivals[5]! >= 0) touchedByEnds++;
				expect(grown).toBeLessThan(1e-6);
			}),
			{ numRuns: 40, seed: 5 },
		);
		expect(touchedByEnds).toBeGreaterThan(15);
	});
});
