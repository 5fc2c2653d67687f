import { describe, expect, it } from "vitest";
import type { HoverReport } from "../../src/analysis/craft-report-types.ts";
import type { FeltFrequencies } from "../../src/analysis/report-types.ts";
import { stopRules } from "../../src/report/stop-rules.ts";

const hover: HoverReport = {
	command: 0.5,
	stick: 0.6,
	stickRange: [0.52, 0.71],
	rotorSpeedRadPerSec: 500,
	thrustToWeight: 2,
	powerW: 200,
	voltageV: 14,
	enduranceMin: 16,
	whyNoEndurance: "",
	throttleSlope: 0.2,
};
const felt = (kp: number | null, ki: number | null, hz = 7): FeltFrequencies => ({
	fastShake: kp === null ? null : { gain: "kp", factor: kp, hz },
	slowWallow: ki === null ? null : { gain: "kAngle", factor: ki, hz: 0.7 },
	limits: [],
	sentence: "",
	why: {},
});
const ask = (change: Partial<Parameters<typeof stopRules>[0]> = {}) =>
	stopRules({
		felt: { roll: felt(3, 2), pitch: felt(2.5, 4, 6.2), yaw: felt(null, null) },
		hover,
		fullTiltRad: Math.PI / 6,
		...change,
	});

describe("stopRules", () => {
	it("names the axis that is nearest to each trouble, its frequency and the gain to lower", () => {
		const [shake, wallow] = ask();
		expect(shake!.sentence).toBe(
			"It shakes at about 6.2 Hz, or the motors sing in that beat: throttle down at once, then pitch kp down by a third.",
		);
		expect(shake!.reason).toContain("1/2.5");
		expect(wallow!.sentence).toContain("0.70 Hz");
		expect(wallow!.sentence).toContain("roll k_angle down by a third");
	});
	it("gives the stick range, the tilt and the time", () => {
		const text = ask()
			.map((each) => each.sentence)
			.join("\n");
		expect(text).toContain("by 71 % stick, or lifts below 52 %");
		expect(text).toContain("more than 20 degrees");
		expect(text).toContain("8 minutes have passed");
		expect(ask({ fullTiltRad: 0.2 }).find((each) => each.rule === "tilt")!.sentence).toContain(
			"more than 8 degrees",
		);
	});
	it("leaves out what no loop can do, and everything where the craft cannot hover", () => {
		const calm = { roll: felt(null, null), pitch: felt(null, null), yaw: felt(null, null) };
		expect(ask({ felt: calm }).map((each) => each.rule)).toEqual(["tilt", "stick", "time"]);
		expect(ask({ hover: { ...hover, enduranceMin: null } }).map((each) => each.rule)).not.toContain("time");
		expect(ask({ hover: null })).toHaveLength(1);
		expect(ask({ hover: null })[0]!.sentence).toContain("cannot hover");
	});
	it("never speaks without a number, unless it forbids", () => {
		for (const { sentence } of ask()) expect(sentence).toMatch(/\d/);
	});
});
