import { describe, expect, it } from "vitest";
import type { CraftInput } from "../../src/craft/input.ts";
import { resolveCraft } from "../../src/craft/resolve.ts";
import { pathInFile } from "../../src/craft/value-paths.ts";

const TEN: CraftInput = {
	mass: 1.2,
	wheelbase: 0.45,
	propeller: { diameter: 0.254 },
	motors: { maxThrust: 8, lag: 0.05 },
	timing: { loop: 0.002 },
};
const LISTED = Array.from({ length: 5 }, (_, i) => ({
	place: `rotor ${i}`,
	position: [0.3 * Math.cos(1.2566 * i), 0.3 * Math.sin(1.2566 * i), -0.02] as const,
	spin: i % 2 === 0 ? ("clockwise" as const) : ("counter-clockwise" as const),
}));
const { wheelbase: _, ...UNPLACED } = TEN;
const oddOf = (input: CraftInput) => {
	const { odd, notes } = resolveCraft(input);
	expect(notes.problems).toEqual([]);
	return odd.map(({ path, sentence }) => `${path}: ${sentence}`);
};

describe("what is odd is said of the value that the file gives", () => {
	it("of the list of rotors, where they are listed", () => {
		expect(oddOf({ ...UNPLACED, rotors: LISTED })).toEqual([
			expect.stringMatching(/^craft\.rotors: 5 rotors spin 1 more one way/),
		]);
	});

	it("of the one lag that is given, or the lag up", () => {
		expect(oddOf({ ...TEN, motors: { maxThrust: 8, lag: 4 } })[0]).toMatch(/^craft\.motors\.lag: .* 4 s/);
		expect(oddOf({ ...TEN, motors: { maxThrust: 8, lagUp: 4 } })[0]).toMatch(/^craft\.motors\.lagUp: .* 4 s/);
	});

	it("of the wheelbase, where the propellers overlap by it; of the first path where the file gives neither", () => {
		expect(oddOf({ ...TEN, propeller: { diameter: 0.4 } })).toContainEqual(
			expect.stringMatching(/^craft\.wheelbase: front right and rear right are/),
		);
		expect(pathInFile("craft.mass", {})).toBe("craft.mass");
		expect(pathInFile("craft.mass", { parts: [] })).toBe("craft.parts");
	});
});

describe("a value that another one makes idle is said, with both numbers", () => {
	it("lag beside lagUp, unless they agree; beside lagDown it counts", () => {
		const motors = { maxThrust: 8, lag: 0.05 };
		expect(oddOf({ ...TEN, motors: { ...motors, lagUp: 0.04, lagDown: 0.06 } })).toEqual([
			"craft.motors.lag: 50 ms counts for nothing, since lagUp says 40 ms",
		]);
		expect(oddOf({ ...TEN, motors: { ...motors, lagUp: 0.05 } })).toEqual([]);
		expect(oddOf({ ...TEN, motors: { ...motors, lagDown: 0.06 } })).toEqual([]);
	});

	it("layout and its companions beside a list of rotors", () => {
		const said = oddOf({
			...TEN,
			rotors: LISTED,
			layout: "X",
			frontRightSpin: "clockwise",
			rotorHeight: 0.02,
			motorNumbers: [1, 2, 3, 4],
		});
		const why = "counts for nothing, since craft.rotors lists 5 rotors one by one";
		for (const [key, value] of [
			["wheelbase", "450 mm"],
			["layout", '"X"'],
			["frontRightSpin", '"clockwise"'],
			["rotorHeight", "20 mm"],
			["motorNumbers", "[1,2,3,4]"],
		])
			expect(said).toContain(`craft.${key}: ${value} ${why}`);
	});
});
