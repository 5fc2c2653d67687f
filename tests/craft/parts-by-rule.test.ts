import { describe, expect, it } from "vitest";
import { sumParts } from "../../src/craft/parts.ts";
import { partsByRule } from "../../src/craft/parts-by-rule.ts";

const rotor = (place: string, x: number, y: number) => ({
	place,
	motorNumber: 1,
	positionM: [x, y, -0.02] as const,
	axis: [0, 0, -1] as const,
	spin: 1 as const,
	speedFactor: 1,
});
const ROTORS = [rotor("a", 0.2, 0.1), rotor("b", -0.2, 0.1), rotor("c", -0.2, -0.1), rotor("d", 0.2, -0.1)];

describe("partsByRule", () => {
	it("weighs what was given, its centre between the rotors", () => {
		const { whole } = sumParts(partsByRule(2, ROTORS));
		expect(whole.massKg).toBeCloseTo(2, 12);
		whole.centreOfMassM.forEach((each, i) => {
			expect(each).toBeCloseTo([0, 0, -0.02][i]!, 12);
		});
	});
	it("has the inertia of box, points and rods by hand", () => {
		// Box 0.6 m (b^2 + c^2)/12, points 0.3 m r^2, rods from the middle 0.1 m r^2/3 (a thin rod about its end): closed forms.
		const m = 2;
		const r = Math.hypot(0.2, 0.1);
		const j = sumParts(partsByRule(m, ROTORS)).whole.inertiaKgM2;
		const box = (a: number, b: number): number => (0.6 * m * r * r * (a * a + b * b)) / 12;
		expect(j[0]).toBeCloseTo(box(0.6, 0.5) + (0.3 + 0.1 / 3) * m * 0.1 ** 2, 12);
		expect(j[4]).toBeCloseTo(box(0.6, 0.5) + (0.3 + 0.1 / 3) * m * 0.2 ** 2, 12);
		expect(j[8]).toBeCloseTo(box(0.6, 0.6) + (0.3 + 0.1 / 3) * m * r * r, 12);
	});
});
