import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { PartInput } from "../../src/craft/input.ts";
import { isPossibleInertia } from "../../src/craft/mass-from-input.ts";
import { shapeInertia, sumParts } from "../../src/craft/parts.ts";
import type { Vec3 } from "../../src/math/types.ts";

const near = (a: readonly number[], b: readonly number[], tolerance = 1e-14): void => {
	expect(a).toHaveLength(b.length);
	a.forEach((x, i) => {
		expect(Math.abs(x - b[i]!), `entry ${i}: ${x} against ${b[i]}`).toBeLessThan(tolerance);
	});
};

describe("parts", () => {
	it("a rod in two halves is the rod (parallel axes)", () => {
		const half = (x: number): PartInput => ({
			name: "half",
			shape: "rod",
			mass: 0.25,
			length: 0.3,
			position: [x, 0, 0],
		});
		const { whole } = sumParts([half(0.15), half(-0.15)]);
		near(whole.inertiaKgM2, shapeInertia({ name: "rod", shape: "rod", mass: 0.5, length: 0.6 }));
	});

	it("a box in eight is the box, wherever it stands", () => {
		const at: Vec3[] = [-1, 1].flatMap((x) =>
			[-1, 1].flatMap((y) => [-1, 1].map((z): Vec3 => [0.05 * x + 1, 0.03 * y - 2, 0.02 * z + 3])),
		);
		const { whole, shares } = sumParts([
			{ name: "eighth", shape: "box", mass: 0.1, size: [0.1, 0.06, 0.04], at },
		]);
		near(whole.centreOfMassM, [1, -2, 3]);
		near(whole.inertiaKgM2, shapeInertia({ name: "box", shape: "box", mass: 0.8, size: [0.2, 0.12, 0.08] }));
		expect(shares[0]).toMatchObject({ name: "eighth", count: 8 });
	});

	it("a turned part: a rod along x, yawed 90 deg, lies along y; pitched 90 deg, along z", () => {
		const rod = (orientation: Vec3) =>
			sumParts([{ name: "rod", shape: "rod", mass: 0.5, length: 0.6, orientation }]).whole.inertiaKgM2;
		near(rod([0, 0, Math.PI / 2]), [0.015, 0, 0, 0, 0, 0, 0, 0, 0.015]);
		near(rod([0, Math.PI / 2, 0]), [0.015, 0, 0, 0, 0.015, 0, 0, 0, 0]);
		near(rod([0, 0, Math.PI / 4]), [0.0075, -0.0075, 0, -0.0075, 0.0075, 0, 0, 0, 0.015]);
	});

	it("the shares of the lines add up to the whole, which some body can have", () => {
		const length = fc.double({ min: 0.001, max: 1, noNaN: true });
		const spot = fc.tuple(length, length, length) as fc.Arbitrary<Vec3>;
		const part = fc
			.tuple(
				fc.constantFrom("box", "cylinder", "tube"),
				fc.double({ min: 0.001, max: 3, noNaN: true }),
				spot,
				spot,
				spot,
			)
			.map(([shape, mass, position, orientation, size]): PartInput => {
				const base = { name: shape, mass, position, orientation };
				if (shape === "box") return { ...base, shape: "box", size };
				if (shape === "cylinder") return { ...base, shape: "cylinder", diameter: size[0], length: size[1] };
				return {
					...base,
					shape: "tube",
					outerDiameter: size[0],
					innerDiameter: size[0] / 2,
					length: size[1],
				};
			});
		fc.assert(
			fc.property(fc.array(part, { minLength: 1, maxLength: 8 }), (parts) => {
				const { whole, shares } = sumParts(parts);
				const sum = (pick: (s: (typeof shares)[number]) => readonly number[]): number[] =>
					shares.map(pick).reduce<number[]>((a, b) => b.map((x, i) => x + (a[i] ?? 0)), []);
				near(
					sum((s) => s.inertiaKgM2),
					whole.inertiaKgM2,
					1e-10,
				);
				near(
					sum((s) => s.momentKgM).map((x) => x / whole.massKg),
					whole.centreOfMassM,
					1e-12,
				);
				expect(isPossibleInertia(whole.inertiaKgM2)).toBe(true);
			}),
		);
	});
});
