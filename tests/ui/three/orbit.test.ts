import { PerspectiveCamera, Vector3 } from "three";
import { describe, expect, it } from "vitest";
import { placeInPicture } from "../../../src/ui/three/axes.ts";
import {
	eyeOffset,
	eyeUp,
	fittingDistance,
	keyed,
	SIDES,
	type Side,
	turned,
	zoomed,
} from "../../../src/ui/three/orbit.ts";

function seen(side: Side, point: readonly [number, number, number]): Vector3 {
	const camera = new PerspectiveCamera(30, 1, 0.1, 100);
	camera.position.set(...eyeOffset(SIDES[side], 10));
	camera.up.set(...eyeUp(SIDES[side]));
	camera.lookAt(0, 0, 0);
	camera.updateMatrixWorld();
	return new Vector3(...placeInPicture(point)).project(camera);
}

describe("the camera", () => {
	it("from above: forward is up, right is right", () => {
		expect(seen("from above", [1, 0, 0]).y).toBeGreaterThan(0.1);
		expect(seen("from above", [1, 0, 0]).x).toBeCloseTo(0, 9);
		expect(seen("from above", [0, 1, 0]).x).toBeGreaterThan(0.1);
	});
	it("from behind: right is right, down is down, the nose is farther away", () => {
		expect(seen("from behind", [0, 1, 0]).x).toBeGreaterThan(0.1);
		expect(seen("from behind", [0, 0, 1]).y).toBeLessThan(-0.1);
		expect(seen("from behind", [1, 0, 0]).z).toBeGreaterThan(seen("from behind", [-1, 0, 0]).z);
	});
	it("from the right: the nose points to the right", () => {
		expect(seen("from the right", [1, 0, 0]).x).toBeGreaterThan(0.1);
	});
	it("never goes over the top and zooms within bounds", () => {
		expect(turned(SIDES["from above"], 0, 1).aboveRad).toBe(Math.PI / 2);
		let orbit = SIDES["at an angle"];
		for (let i = 0; i < 50; i++) orbit = zoomed(orbit, 2);
		expect(orbit.zoom).toBe(4);
	});
	it("answers to arrows, plus and minus, and to no other key", () => {
		const start = SIDES["at an angle"];
		expect(keyed(start, "ArrowRight")!.aroundRad).toBeCloseTo(start.aroundRad + Math.PI / 18, 12);
		expect(keyed(start, "ArrowUp")!.aboveRad).toBeCloseTo(start.aboveRad + Math.PI / 18, 12);
		expect(keyed(start, "+")!.zoom).toBeLessThan(1);
		expect(keyed(start, "-")!.zoom).toBeGreaterThan(1);
		expect(keyed(start, "Tab")).toBeNull();
	});
	it("fits a sphere into the narrower of height and width", () => {
		const distance = fittingDistance(1, Math.PI / 6, 0.5);
		const half = Math.atan(Math.tan(Math.PI / 12) * 0.5);
		expect(distance * Math.sin(half)).toBeCloseTo(1, 12);
	});
});
