import { describe, expect, it } from "vitest";
import type { PartInput } from "../../src/craft/input.ts";
import { shapeInertia, sumParts } from "../../src/craft/parts.ts";

/**
 * Closed forms of the mechanics handbooks (Meriam and Kraige, Engineering Mechanics: Dynamics, table D/4, from memory),
 * with numbers worked by hand.
 */
const FORMS: readonly (readonly [string, PartInput, readonly [number, number, number]])[] = [
	["uniform rod 0.5 kg, 0.6 m: 0.015", { name: "", shape: "rod", mass: 0.5, length: 0.6 }, [0, 0.015, 0.015]],
	["block 12 kg, 1 x 2 x 3 m: 13, 10, 5", { name: "", shape: "box", mass: 12, size: [1, 2, 3] }, [13, 10, 5]],
	[
		"disc-like cylinder 2 kg, r 0.3, l 0.2",
		{ name: "", shape: "cylinder", mass: 2, diameter: 0.6, length: 0.2 },
		[0.155 / 3, 0.155 / 3, 0.09],
	],
	[
		"tube 1 kg, 0.04/0.03 m, l 0.5",
		{ name: "", shape: "tube", mass: 1, outerDiameter: 0.04, innerDiameter: 0.03, length: 0.5 },
		[3.125e-4, 0.02098958333333333, 0.02098958333333333],
	],
];

describe("moments of inertia of simple shapes", () => {
	it.each(FORMS)("%s", (_, part, [x, y, z]) => {
		const j = shapeInertia(part);
		expect(j[0]).toBeCloseTo(x, 14);
		expect(j[4]).toBeCloseTo(y, 14);
		expect(j[8]).toBeCloseTo(z, 14);
	});

	it("a tube is the outer cylinder less the inner one, and a thin tube approaches m r^2", () => {
		const tube = shapeInertia({
			name: "",
			shape: "tube",
			mass: 7,
			outerDiameter: 4,
			innerDiameter: 3,
			length: 5,
		});
		const solid = (mass: number, diameter: number) =>
			shapeInertia({ name: "", shape: "cylinder", mass, diameter, length: 5 });
		expect(tube[0]).toBeCloseTo(solid(16, 4)[8] - solid(9, 3)[8], 12);
		expect(tube[4]).toBeCloseTo(solid(16, 4)[0] - solid(9, 3)[0], 12);
		const thin = shapeInertia({
			name: "",
			shape: "tube",
			mass: 1,
			outerDiameter: 2,
			innerDiameter: 1.999999,
			length: 1,
		});
		expect(thin[0]).toBeCloseTo(1, 5);
	});

	it("a four-motor cross by hand: 0.1 kg points at (0.2, 0.2), 1 kg block, 0.3 kg hung 0.1 m below", () => {
		const { whole } = sumParts([
			{ name: "block", shape: "box", mass: 1, size: [0.12, 0.12, 0.06] },
			{
				name: "motor",
				shape: "point",
				mass: 0.1,
				at: [
					[0.2, 0.2, 0],
					[-0.2, 0.2, 0],
					[-0.2, -0.2, 0],
					[0.2, -0.2, 0],
				],
			},
			{ name: "hung", shape: "point", mass: 0.3, position: [0, 0, 0.1] },
		]);
		// Centre 0.03/1.7 m down; roll: 1.5e-3 + 4 x 0.1 x 0.04 + reduced mass (1.4 x 0.3/1.7) x 0.1^2; yaw: 2.4e-3 + 4 x 0.1 x 0.08.
		expect(whole.centreOfMassM[2]).toBeCloseTo(0.03 / 1.7, 14);
		expect(whole.inertiaKgM2[0]).toBeCloseTo(0.0015 + 0.016 + ((1.4 * 0.3) / 1.7) * 0.01, 14);
		expect(whole.inertiaKgM2[8]).toBeCloseTo(0.0024 + 0.032, 14);
	});
});
