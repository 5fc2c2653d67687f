import { describe, expect, it } from "vitest";
import { axisLaw, noteDelivered, settleAxis } from "../../src/control/axis-law.ts";
import { blockOrder, stepBlock } from "../../src/control/block.ts";
import { pidCore } from "../../src/control/blocks.ts";
import { OUT } from "../../src/control/signals.ts";
import type { AxisGains } from "../../src/control/spec.ts";
import { sampleGains } from "../fixtures/craft.ts";
import { rollInput, tickAxis } from "./tick-axis.ts";

const T = 0.002;
const base = sampleGains();
const set = (change: Partial<AxisGains>, structure = base.structure) => ({
	...base,
	structure,
	roll: { ...base.roll, ...change },
});

/** u after ticks of constant rate error, rate-only. */
function run(change: Partial<AxisGains>, ticks: number, sp: number, lifted = true, shortOf = 0) {
	const law = axisLaw(set(change, "rateOnly"), "roll", T);
	const state = new Float64Array(law.stride);
	let u = 0;
	for (let k = 0; k < ticks; k++) {
		u = tickAxis(law, state, 0, 0, sp, 0, T, lifted);
		const output = new Float64Array(OUT.commands);
		output[OUT.u] = u;
		output[OUT.delivered] = u - shortOf;
		noteDelivered(law, state, 0, output, 0);
	}
	return { u, integral: state[0]!, law, state };
}

describe("axis law", () => {
	it("acts as its PID core when no limit does", () => {
		const gains = { ...base.roll, kff: 0.01, setPointWeight: 0.6 };
		const law = axisLaw(set(gains, "rateOnly"), "roll", T, true);
		const state = new Float64Array(law.stride);
		const core = pidCore(gains, T);
		const coreState = new Float64Array(blockOrder(core));
		for (let k = 0; k < 500; k++) {
			const sp = Math.sin(0.05 * k);
			const rate = Math.cos(0.11 * k) - 1;
			const u = tickAxis(law, state, 0, 0, sp, rate, T, true);
			expect(u).toBeCloseTo(stepBlock(core, [sp, rate], coreState, 0, 2), 11);
		}
	});
	it("limits the rate set-point, the integral and u", () => {
		expect(run({ ki: 0, kp: 0.01 }, 1, 99).u).toBeCloseTo(0.04, 12);
		expect(run({ ki: 5, kp: 0, integralLimit: 0.15 }, 1000, 1).integral).toBe(0.15);
		expect(run({ kp: 9 }, 1, 1).u).toBe(base.roll.outputLimit);
	});
	it("freezes the integral while u is at its limit and the error pushes further", () => {
		const { integral, law, state } = run({ kp: 9, ki: 1 }, 50, 1);
		// The first tick did not know yet.
		expect(integral).toBeCloseTo(1 * 1 * T, 12);
		tickAxis(law, state, 0, 0, -1, 0, T, true);
		expect(state[0]).toBeCloseTo(0, 12);
	});
	it("freezes it while the mixer delivers less", () => {
		expect(run({ kp: 0.1, ki: 1 }, 50, 1).integral).toBeCloseTo(50 * T, 12);
		expect(run({ kp: 0.1, ki: 1 }, 50, 1, true, 0.01).integral).toBeCloseTo(T, 12);
	});
	it("holds the integral at 0 until lift-off", () => expect(run({ ki: 1 }, 50, 1, false).integral).toBe(0));
	it("holds D on ticks without a new sample and takes dt from their spacing", () => {
		const law = axisLaw(set({ kp: 0, ki: 0, kd: 1, derivativeCutoffHz: 40 }, "rateOnly"), "roll", T, true);
		const state = new Float64Array(law.stride);
		const step = (rate: number, spacing: number) => tickAxis(law, state, 0, 0, 0, rate, spacing, true);
		step(0, 0.01);
		const first = step(0.05, 0.01);
		expect(first).toBeCloseTo(-(1 - Math.exp(-2 * Math.PI * 40 * 0.01)) * 5, 12);
		expect(step(0.05, 0)).toBe(first);
	});
	it("sums the angle error up to its limit, and not while the rate set-point is at its own", () => {
		const ticks = (change: Partial<AxisGains>, error: number) => {
			const law = axisLaw(
				set({ kAngle: 1, kAngleI: 1, kp: 1, ki: 0, kd: 0, outputLimit: 99, ...change }),
				"roll",
				T,
			);
			const state = new Float64Array(law.stride);
			let u = 0;
			for (let k = 0; k < 100; k++) u = tickAxis(law, state, error, 0, 0, 0, T, true);
			return u;
		};
		expect(ticks({}, 0.1)).toBeCloseTo(0.1 + 100 * 0.1 * T, 12);
		expect(ticks({ angleIntegralLimitRadPerSec: 0.01 }, 0.1)).toBeCloseTo(0.11, 12);
		expect(ticks({ rateLimitRadPerSec: 0.05 }, 0.1)).toBe(0.05);
	});
	it("single angle PID: P and I on angle, D from the gyro itself", () => {
		const law = axisLaw(set({ kp: 2, ki: 0, kd: 0.5, derivativeCutoffHz: 1e9 }, "anglePid"), "roll", T, true);
		const state = new Float64Array(law.stride);
		expect(tickAxis(law, state, 0.3, 0.1, 99, 0.2, T, true)).toBeCloseTo(2 * 0.2 - 0.5 * 0.2, 12);
	});
	it("cascade: the angle error asks for a rate", () => {
		const law = axisLaw(set({ kAngle: 5, kp: 0.1, ki: 0, kd: 0 }), "roll", T);
		expect(tickAxis(law, new Float64Array(law.stride), 0.3, 0.1, 99, 0.2, T, true)).toBeCloseTo(
			0.1 * (5 * 0.2 - 0.2),
			12,
		);
	});
	it.each(["cascade", "anglePid", "rateOnly"] as const)(
		"settles so that the next tick changes nothing: %s",
		(structure) => {
			const filters = [{ kind: "lowPass2" as const, cutoffHz: 80, damping: 0.7 }];
			const law = axisLaw({ ...set({ setPointWeight: 0.8 }, structure), filters }, "roll", T);
			const state = new Float64Array(law.stride);
			settleAxis(
				law,
				state,
				0,
				rollInput(0.1, 0.1, 0.05, structure === "rateOnly" ? 0.05 : 0, T, true),
				0,
				0.07,
			);
			const before = state.slice();
			const u = tickAxis(law, state, 0.1, 0.1, 0.05, structure === "rateOnly" ? 0.05 : 0, T, true);
			expect(u).toBeCloseTo(0.07, 12);
			for (let i = 0; i < law.stride; i++) expect(state[i]).toBeCloseTo(before[i]!, 12);
		},
	);
});
