import { describe, expect, it } from "vitest";
import type { LayoutWord } from "../../src/craft/input.ts";
import { resolveRotors } from "../../src/craft/layout.ts";
import { Notes } from "../../src/craft/notes.ts";

const rotors = (layout: LayoutWord) => resolveRotors({ layout, wheelbase: 0.5 }, new Notes());

describe("layouts", () => {
	it.each(["X", "plus", "hex", "hex plus", "octo", "octo plus"] as const)(
		"%s is balanced and on its circle",
		(layout) => {
			const all = rotors(layout);
			expect(all.reduce((sum, r) => sum + r.spin, 0)).toBe(0);
			for (const r of all) expect(Math.hypot(r.positionM[0], r.positionM[1])).toBeCloseTo(0.25, 11);
			for (const axis of [0, 1] as const)
				expect(all.reduce((sum, r) => sum + r.positionM[axis], 0)).toBeCloseTo(0, 11);
			expect(new Set(all.map((r) => r.place)).size).toBe(all.length);
			for (const [i, r] of all.entries()) expect(r.spin).toBe(-all[(i + 1) % all.length]!.spin);
		},
	);

	it("names places by where they are", () => {
		for (const layout of ["X", "plus", "hex", "hex plus", "octo", "octo plus"] as const)
			for (const {
				place,
				positionM: [x, y],
			} of rotors(layout)) {
				if (place.includes("front")) expect(x).toBeGreaterThan(0);
				if (place.includes("rear")) expect(x).toBeLessThan(0);
				if (place.includes("right")) expect(y).toBeGreaterThan(0);
				if (place.includes("left")) expect(y).toBeLessThan(0);
			}
	});

	it("in a quad each diagonal pair shares a spin", () => {
		const [fr, rr, rl, fl] = rotors("X");
		expect([fr!.spin, rl!.spin]).toEqual([-1, -1]);
		expect([rr!.spin, fl!.spin]).toEqual([1, 1]);
	});

	it("tilts the thrust towards nose and right", () => {
		const [r] = resolveRotors(
			{ rotors: [{ place: "x", position: [0, 0, 0], spin: "clockwise", tiltForward: 0.1, tiltRight: 0 }] },
			new Notes(),
		);
		expect(r!.axis[0]).toBeCloseTo(Math.sin(0.1), 12);
		expect(r!.axis[2]).toBeCloseTo(-Math.cos(0.1), 12);
		expect(r!.spin).toBe(1);
	});
});
