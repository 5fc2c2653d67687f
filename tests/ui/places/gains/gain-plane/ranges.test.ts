import { describe, expect, it } from "vitest";
import { loadDocument } from "../../../../../src/scenario/load.ts";
import {
	centreOf,
	gainAt,
	isInside,
	planeGains,
	SPREADS,
	shareOf,
	sideAbout,
	sideValues,
} from "../../../../../src/ui/places/gains/gain-plane/ranges.ts";
import { DEMO_STATE } from "../../../sample.ts";

const loaded = loadDocument(DEMO_STATE.document);
if (!loaded.ok) throw new Error(loaded.errors[0]!.message);
const set = loaded.scenario.gainSets[0]!;

describe.each(SPREADS)("a side $words", (spread) => {
	const side = sideAbout("kp", 0.04, spread);
	it("reaches as far as it says about its centre", () => {
		expect(side.low).toBeCloseTo(0.04 * spread.low, 12);
		expect(side.high).toBeCloseTo(0.04 * spread.high, 12);
		expect(isInside(side, 0.04)).toBe(true);
		expect(isInside(side, side.high * 1.01)).toBe(false);
	});
	it("leads from a dot's place to its gain and back, to four figures", () => {
		for (const share of [0.1, 0.5, 0.93]) {
			const gain = gainAt(side, share);
			expect(Number(gain.toPrecision(4))).toBe(gain);
			expect(shareOf(side, gain)).toBeCloseTo(share, 2);
		}
		expect(gainAt(side, -3)).toBe(Number(side.low.toPrecision(4)));
		expect(gainAt(side, 1.7)).toBe(Number(side.high.toPrecision(4)));
	});
	it("has its cells in order, from end to end, evenly in place", () => {
		const values = sideValues(side, 7);
		expect(values[0]).toBeCloseTo(side.low, 12);
		expect(values[6]).toBeCloseTo(side.high, 12);
		values.forEach((value, i) => {
			if (value > 0) expect(shareOf(side, value)).toBeCloseTo(i / 6, 9);
		});
	});
});

describe("the gains of a plane", () => {
	it("are those that act on the axis", () => {
		expect(planeGains(set, "roll")).toContain("kAngle");
		expect(planeGains(set, "yaw")).not.toContain("kAngle");
		expect(planeGains({ ...set, structure: "anglePid" }, "roll")).not.toContain("kAngle");
	});
	it("have a centre even where the set's own is 0", () => {
		const none = { ...set, roll: { ...set.roll, kd: 0, ki: 0 } };
		expect(centreOf(none, "roll", "kd")).toBeGreaterThan(0);
		expect(centreOf(none, "roll", "ki")).toBeGreaterThan(0);
		expect(centreOf(set, "roll", "kp")).toBe(set.roll.kp);
	});
});
