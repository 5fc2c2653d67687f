import { Quaternion, Vector3 } from "three";
import { describe, expect, it } from "vitest";
import { times } from "../../../src/math/mat3.ts";
import { fromEuler, toMatrix } from "../../../src/math/quaternion.ts";
import type { Vec3 } from "../../../src/math/types.ts";
import { placeInPicture, turnInPicture } from "../../../src/ui/three/axes.ts";

describe("the picture's axes", () => {
	it("puts forward into the screen, right to the right, down to below", () => {
		expect(placeInPicture([1, 2, 3])).toEqual([2, -3, -1]);
	});
	it.each([
		[0.3, 0, 0],
		[0, -0.4, 0],
		[0, 0, 2.1],
		[0.7, -1.2, 2.9],
		[-2.5, 0.9, -0.6],
	] as const)("turns a body point as the flight does, at roll %f, pitch %f, yaw %f", (...angles) => {
		const attitude = fromEuler(angles);
		for (const point of [
			[1, 0, 0],
			[0, 1, 0],
			[0, 0, 1],
			[0.2, -0.5, 0.9],
		] as Vec3[]) {
			const flown = placeInPicture(times(toMatrix(attitude), point));
			const drawn = new Vector3(...placeInPicture(point)).applyQuaternion(
				new Quaternion(...turnInPicture(attitude)),
			);
			drawn.toArray().forEach((each, i) => {
				expect(each).toBeCloseTo(flown[i]!, 12);
			});
		}
	});
	it("lowers the right side when rolled right and raises the nose when pitched up", () => {
		const rightTip = new Vector3(...placeInPicture([0, 1, 0])).applyQuaternion(
			new Quaternion(...turnInPicture(fromEuler([0.2, 0, 0]))),
		);
		expect(rightTip.y).toBeCloseTo(-Math.sin(0.2), 12);
		const nose = new Vector3(...placeInPicture([1, 0, 0])).applyQuaternion(
			new Quaternion(...turnInPicture(fromEuler([0, 0.2, 0]))),
		);
		expect(nose.y).toBeCloseTo(Math.sin(0.2), 12);
	});
});
