import { describe, expect, it } from "vitest";
import { setValue } from "../../../src/ui/commands/set-value.ts";
import { DEMO_STATE } from "../sample.ts";
import { craftOf, done, readState } from "./on-demo.ts";

describe("setValue", () => {
	it("writes a value as typed, and makes the group that it stands in", () => {
		const state = done(setValue("craft.air.altitude", "800 m"));
		expect(craftOf(state)["air"]).toEqual({ altitude: "800 m" });
		expect(readState(state).craft.air.densityKgM3).toBeLessThan(1.15);
	});
	it("takes a value out, and with it the groups that it leaves empty", () => {
		const state = done(
			setValue("craft.sticks.roll.low", "1100 us"),
			setValue("craft.air.altitude", "800 m"),
			setValue("craft.air.altitude", undefined),
			setValue("craft.sticks.roll.low", undefined),
		);
		expect(craftOf(state)).not.toHaveProperty("air");
		expect(craftOf(state)["sticks"]).toEqual(craftOf(DEMO_STATE)["sticks"]);
		expect(state.document["craft"]).toEqual(DEMO_STATE.document["craft"]);
	});
	it("leaves an entry of a list in its place when it says nothing any more", () => {
		const bench = [{ command: "10 %" }, { command: "20 %" }];
		const state = done(
			setValue("craft.motors.bench", bench),
			setValue("craft.motors.bench[0].command", undefined),
		);
		expect((craftOf(state)["motors"] as { bench: unknown }).bench).toEqual([{}, { command: "20 %" }]);
	});
	it("is no change where there was nothing to take out", () =>
		expect(setValue("craft.air.density", undefined).apply(DEMO_STATE)).toBe(DEMO_STATE));
	it("reads an older document as the current one", () => {
		const craft = { mass: "1 kg", wheelbase: "400 mm", timing: { loopRate: "500 Hz", jitter: "10 us" } };
		const old = { ...DEMO_STATE, document: { levelhead: 1, craft } };
		const state = setValue("craft.timing.jitter", undefined).apply(old);
		expect(state.document).toEqual({
			levelhead: 2,
			craft: { mass: "1 kg", wheelbase: "400 mm", timing: { loop: "500 Hz" } },
		});
	});
});
