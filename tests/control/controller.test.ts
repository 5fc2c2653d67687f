import { describe, expect, it } from "vitest";
import { IN, OUT } from "../../src/control/signals.ts";
import { leastAllocatedBytes } from "../fixtures/allocated-bytes.ts";
import { sampleGains } from "../fixtures/craft.ts";
import { hoveringController, TICK_SEC } from "../fixtures/hovering-controller.ts";

const T = TICK_SEC;
const setUp = () => hoveringController(sampleGains());

describe("controller", () => {
	it("hovers at throttle when everything is level and still", () => {
		const { controller, state, input, output } = setUp();
		controller.tick(state, input, output);
		expect([...output.slice(OUT.commands)]).toEqual([0.5, 0.5, 0.5, 0.5]);
		expect(output[OUT.saturated]).toBe(0);
	});
	it("answers a dropped right side by speeding the right pair up", () => {
		const { controller, state, input, output } = setUp();
		input[IN.angle] = 0.1;
		controller.tick(state, input, output);
		const [frontRight, rearRight, rearLeft, frontLeft] = output.slice(OUT.commands);
		expect(frontRight).toBeGreaterThan(0.5);
		expect(rearRight).toBe(frontRight);
		expect(rearLeft).toBe(frontLeft);
		expect(rearLeft).toBeLessThan(0.5);
		expect(output[OUT.rateSetPoint]).toBeCloseTo(-0.4, 12);
	});
	it("keeps each axis in its own stretch of the state", () => {
		const { controller, state, input, output } = setUp();
		input[IN.rate + 1] = 0.2;
		controller.tick(state, input, output);
		const [, pitchAt, yawAt] = controller.axisAt;
		expect(state.slice(0, pitchAt).every((x) => x === 0)).toBe(true);
		expect(state.slice(yawAt).every((x) => x === 0)).toBe(true);
		expect(state.slice(pitchAt, yawAt).some((x) => x !== 0)).toBe(true);
	});
	it("forgets everything when made safe", () => {
		const { controller, state, input, output } = setUp();
		input[IN.rateSetPoint + 2] = 1;
		for (let k = 0; k < 50; k++) controller.tick(state, input, output);
		expect(output[OUT.integral + 2]).toBeGreaterThan(0);
		input[IN.live] = 0;
		controller.tick(state, input, output);
		expect([...output].every((x) => x === 0)).toBe(true);
		input[IN.live] = 1;
		input[IN.rateSetPoint + 2] = 0;
		controller.tick(state, input, output);
		expect([...output.slice(OUT.u, OUT.u + 3)]).toEqual([0, 0, 0]);
	});
	it("stands still after settle", () => {
		const { controller, state, input, output } = setUp();
		controller.settle(state, input, [0.02, -0.03, 0.01]);
		for (let k = 0; k < 5; k++) controller.tick(state, input, output);
		[0.02, -0.03, 0.01].forEach((u, i) => {
			expect(output[OUT.u + i]).toBeCloseTo(u, 14);
		});
	});
	it("lets yaw's integral rest while the mixer gives yaw away", () => {
		const { controller, state, input, output } = setUp();
		input[IN.throttle] = 1;
		input[IN.rateSetPoint + 2] = 0.1;
		for (let k = 0; k < 100; k++) controller.tick(state, input, output);
		expect(output[OUT.delivered + 2]).toBeCloseTo(0, 12);
		expect(output[OUT.integral + 2]).toBeCloseTo(0.1 * 0.1 * T, 12);
	});
	it("allocates nothing", () => {
		const { controller, state, input, output } = setUp();
		for (let k = 0; k < 20000; k++) controller.tick(state, input, output);
		const least = leastAllocatedBytes(6, () => {
			for (let k = 0; k < 10000; k++) {
				input[IN.rate] = k % 7;
				controller.tick(state, input, output);
			}
		});
		// One boxed number a tick would be 160 kB.
		expect(least).toBeLessThan(40_000);
	});
});
