import { describe, expect, it } from "vitest";
import { firstFall } from "../../src/analysis/first-fall.ts";
import type { Trace } from "../../src/flight/result.ts";

const DEG = Math.PI / 180;

type Signal = (t: number) => number;

/** A made-up flight at 1 kHz; angles in degrees, yaw rate in deg/s. */
function trace(
	forSec: number,
	signals: { roll?: Signal; pitch?: Signal; rollRate?: Signal; yawRate?: Signal },
): Trace {
	const length = Math.round(forSec * 1000) + 1;
	const column = (f: Signal = () => 0) => Float64Array.from({ length }, (_, i) => f(i / 1000) * DEG);
	return {
		length,
		columns: {
			time: Float64Array.from({ length }, (_, i) => i / 1000),
			roll: column(signals.roll),
			pitch: column(signals.pitch),
			rollRate: column(signals.rollRate),
			pitchRate: column(),
			yawRate: column(signals.yawRate),
		},
	};
}

describe("falling", () => {
	it.each([
		["right", 100, 0],
		["left", -100, 0],
		["front", 0, -100],
		["rear", 0, 100],
		["front-right", 70, -70],
		["rear-left", -70, 70],
		["front-left", -70, -70],
		["rear-right", 70, 70],
	] as const)("to the %s", (direction, roll, pitch) => {
		const fall = firstFall(trace(0.9, { roll: (t) => roll * t, pitch: (t) => pitch * t }), 0, "");
		expect(fall.direction).toBe(direction);
		expect(fall.sentence).toMatch(new RegExp(`^falls ${direction}, 40 deg in 0\\.4\\d s`));
	});

	it("counts from the given moment, and says what it is called", () => {
		const fall = firstFall(
			trace(1.5, { roll: (t) => 160 * Math.max(0, t - 0.5) }),
			0.5,
			" after it gets light",
		);
		expect(fall.fallSec).toBeCloseTo(0.25, 9);
		expect(fall.tilt300Deg).toBeCloseTo(48, 6);
		expect(fall.sentence).toBe("falls right, 40 deg in 0.25 s after it gets light");
	});

	it("is over where it tips on the ground", () => {
		const tipping = trace(0.5, { roll: (t) => -60 * t });
		expect(firstFall(tipping, 0.1, "", true).sentence).toBe(
			"tips over left, 30 deg in 0.40 s; only 24.0 deg in the first 300 ms",
		);
		expect(firstFall(tipping, 0.1, "").fallSec).toBeNull();
	});

	it("says how little the first 300 ms show where the fall comes later", () => {
		const fall = firstFall(trace(1, { pitch: (t) => -100 * Math.max(0, t - 0.25) }), 0, "");
		expect(fall.sentence).toBe("falls front, 40 deg in 0.65 s; only 5.0 deg in the first 300 ms");
	});

	it("takes the direction at 40 degrees, not where it ends upside down", () => {
		const tumbling = trace(1, { pitch: (t) => -80 * Math.min(t, 0.6), roll: (t) => (t > 0.8 ? 170 : 0) });
		expect(firstFall(tumbling, 0, "").direction).toBe("front");
	});
});

describe("the rest", () => {
	it("measures a shake by its crossings", () => {
		const fall = firstFall(trace(1, { rollRate: (t) => 80 * Math.sin(2 * Math.PI * 9 * t) }), 0, "");
		expect(fall.shake!.hz).toBeCloseTo(9, 1);
		expect(fall.shake!.degPerSec).toBeCloseTo(80, 1);
		expect(fall.sentence).toMatch(/^shakes at 9\.0 Hz in roll, up to 80 deg\/s; leans 0\.0 deg/);
	});

	it("does not call noise about one swing a shake", () => {
		const swing = trace(1, { rollRate: (t) => 80 * Math.sin(2 * Math.PI * t) + 5 * Math.sin(900 * t) });
		expect(firstFall(swing, 0, "").shake).toBeNull();
	});

	it("says which way it turns and whether ever faster", () => {
		const faster = firstFall(trace(1, { yawRate: (t) => 300 * t * t }), 0, "");
		expect(faster.sentence).toMatch(/^turns clockwise ever faster, 300 deg\/s after 1\.00 s/);
		const even = firstFall(trace(1, { yawRate: () => -100 }), 0, "");
		expect(even.sentence).toMatch(/^turns counter-clockwise, 100 deg\/s after 1\.00 s/);
	});

	it("calls small motion hardly any, with its numbers", () => {
		const calm = firstFall(trace(1, { roll: (t) => 1.2 * t }), 0, "");
		expect(calm.sentence).toBe("hardly moves: leans 0.4 deg in the first 300 ms, 1.2 deg at most");
		expect(firstFall(trace(0.5, {}), 2, "").direction).toBeNull();
	});
});
