import { describe, expect, it } from "vitest";
import { times } from "../../../src/math/mat3.ts";
import { toMatrix } from "../../../src/math/quaternion.ts";
import type { Vec3 } from "../../../src/math/types.ts";
import * as vec3 from "../../../src/math/vec3.ts";
import { partSolids, rodBetween, sweptArc } from "../../../src/ui/three/craft-solids.ts";

const UP: Vec3 = [0, 0, -1];

describe("solids of the craft", () => {
	it("stand at every place of a part", () => {
		const solids = partSolids([
			{
				name: "legs",
				mass: 0.1,
				shape: "rod",
				length: 0.2,
				at: [
					[1, 0, 0],
					[0, 1, 0],
				],
			},
			{ name: "box", mass: 0.1, shape: "box", size: [1, 2, 3], position: [0, 0, 4] },
		]);
		expect(solids.map((each) => each.placeM)).toEqual([
			[1, 0, 0],
			[0, 1, 0],
			[0, 0, 4],
		]);
		expect(solids[2]!.shape).toEqual({ kind: "box", edgesM: [1, 2, 3] });
	});
	it("a rod reaches from one end to the other", () => {
		const from: Vec3 = [0.1, -0.2, 0.3];
		const to: Vec3 = [-0.4, 0.5, -0.1];
		const rod = rodBetween("rod", from, to);
		if (rod.shape.kind !== "cylinder") throw new Error("not a cylinder");
		const half = times(toMatrix(rod.turn), [rod.shape.lengthM / 2, 0, 0]);
		vec3.add(rod.placeM, half).forEach((each, i) => {
			expect(each).toBeCloseTo(to[i]!, 12);
		});
	});
});

describe("the swept edge of a rotor", () => {
	it("goes from forward to right when clockwise seen from above, the other way when not", () => {
		const [, second] = sweptArc([0, 0, 0], UP, 1, 1, 3, 0, Math.PI);
		expect(second![1]).toBeCloseTo(1, 12);
		const [, other] = sweptArc([0, 0, 0], UP, 1, -1, 3, 0, Math.PI);
		expect(other![1]).toBeCloseTo(-1, 12);
	});
	it("lies on a tilted disc", () => {
		const axis: Vec3 = [Math.sin(0.3), 0, -Math.cos(0.3)];
		for (const point of sweptArc([1, 2, 3], axis, 0.1, 1, 20)) {
			const arm = vec3.subtract(point, [1, 2, 3]);
			expect(vec3.length(arm)).toBeCloseTo(0.1, 12);
			expect(vec3.dot(arm, axis)).toBeCloseTo(0, 12);
		}
	});
});
