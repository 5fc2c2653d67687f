import { describe, expect, it } from "vitest";
import { fromEuler, toEuler } from "../../../src/math/quaternion.ts";
import { between, poseAt, sampleAt, trail } from "../../../src/ui/three/motion.ts";

const column = (...values: number[]): Float64Array => Float64Array.from(values);
const TRACE = {
	length: 3,
	columns: {
		time: column(0, 0.1, 0.2),
		roll: column(0, 0.1, 0.3),
		pitch: column(0, 0, 0),
		yaw: column(3.1, 3.1, -3.1),
		north: column(0, 1, 2),
		east: column(0, 0, 0),
		down: column(-1, -1, -2),
		command0: column(0.4, 0.5, 0.6),
		rotorSpeed0: column(400, 500, 600),
	},
};

describe("a flight at an instant", () => {
	it("is the first sample before the start, the last one after the end", () => {
		expect(sampleAt(TRACE.columns.time, -1)).toEqual({ index: 0, on: 0 });
		expect(sampleAt(TRACE.columns.time, 9)).toEqual({ index: 2, on: 0 });
	});
	it("lies between two samples; a command holds until the next", () => {
		const pose = poseAt(TRACE, 0.05, 1);
		expect(pose.placeM[0]).toBeCloseTo(0.5, 12);
		expect(pose.rotorSpeedsRadPerSec[0]).toBeCloseTo(450, 9);
		expect(pose.commands).toEqual([0.4]);
		expect(toEuler(pose.attitude)[0]).toBeCloseTo(0.05, 6);
	});
	it("a load hangs between the directions of two samples, past north where they lie about it", () => {
		expect(poseAt(TRACE, 0.05, 1).hangs).toEqual([]);
		const swings = {
			swing0: column(0.2, 0.2, 0.2),
			swingNorth0: column(0.2, 0.2, 0.2),
			swingEast0: column(0.1, -0.1, 0),
		};
		const [hang] = poseAt({ ...TRACE, columns: { ...TRACE.columns, ...swings } }, 0.05, 1).hangs;
		expect(hang![0]).toBeCloseTo(Math.sin(0.2), 12);
		expect(hang![1]).toBeCloseTo(0, 12);
		expect(hang![2]).toBeCloseTo(Math.cos(0.2), 12);
	});
	it("turns the shorter way where the heading wraps", () => {
		const heading = toEuler(between(fromEuler([0, 0, 3.1]), fromEuler([0, 0, -3.1]), 0.5))[2];
		expect(Math.abs(heading)).toBeCloseTo(Math.PI, 6);
	});
	it("leaves a trail up to the instant, thinned to what was asked", () => {
		expect(trail(TRACE, 0.1, 10)).toEqual([
			[0, 0, -1],
			[1, 0, -1],
		]);
		expect(trail(TRACE, 0.2, 2)).toHaveLength(2);
	});
	it("refuses a trace without samples", () => {
		expect(() => sampleAt(new Float64Array(0), 0)).toThrow("at least one");
	});
});
