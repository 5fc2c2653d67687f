import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { coupledLoops } from "../../src/analysis/axis-loops.ts";
import { axisPlantsOf } from "../../src/analysis/axis-plants.ts";
import { closeLoop, polesOutside } from "../../src/analysis/closed-loop.ts";
import { craftAnswer } from "../../src/analysis/craft-answer.ts";
import { heldYaw, judgedYaw, yawDepends } from "../../src/analysis/held-axis.ts";
import { liftedLoop, UNCHANGED } from "../../src/analysis/lifted.ts";
import { linearise } from "../../src/analysis/linearise.ts";
import { timingChain } from "../../src/analysis/timing-chain.ts";
import { axisResponse } from "../../src/control/axis-response.ts";
import { fixedSet } from "../../src/control/schedule.ts";
import { type Craft, NOMINAL_POINT, type OperatingPoint } from "../../src/craft/model.ts";
import { createResponder } from "../../src/linear/frequency-response.ts";
import { sampled, stateSpace } from "../../src/linear/state-space.ts";
import { eigenvalues } from "../../src/math/eigenvalues.ts";
import { loadScenario } from "../../src/scenario/load.ts";
import { createMarginCells } from "../../src/tuning/margin-cells.ts";
import { sampleCraft, sampleGains } from "../fixtures/craft.ts";

/** Off balance, its principal axes turned: a yaw command rolls and pitches it too. */
function lopsided(): Craft {
	const craft = sampleCraft();
	const { inertiaKgM2: j } = craft.bare;
	const turned = [j[0], 0.002, -0.006, 0.002, j[4], 0.003, -0.006, 0.003, j[8]] as const;
	return { ...craft, bare: { ...craft.bare, centreOfMassM: [0.05, -0.02, 0.03], inertiaKgM2: turned } };
}

function at(craft: Craft, point: OperatingPoint = NOMINAL_POINT) {
	const found = linearise(craft, point);
	if (!found.feasible) throw new Error(found.reason);
	const chain = timingChain(craft.timing);
	const { linear } = found;
	return { linear, chain, alone: axisPlantsOf(linear, chain).yaw };
}

const set = sampleGains();

describe("yaw with roll and pitch held by their own loops", () => {
	const { linear, chain, alone } = at(lopsided());
	const held = heldYaw(linear, chain, alone, set);

	it("is a loop that the couplings change, of equal clocks: every way must give the same numbers", () => {
		expect(alone.equalClocks).toBe(true);
		expect(yawDepends(alone, held)).toBeGreaterThan(0.05);
	});
	it("answers a sine as its sampled model does", () => {
		const { order, a, bCommand, cRate } = held.sampled;
		const model = createResponder(
			stateSpace(
				sampled(alone.periodSec),
				{ a, b: bCommand, c: cRate, d: new Float64Array(1) },
				{ order, inputs: 1, outputs: 1 },
			),
		);
		const [x, y] = [new Float64Array(2), new Float64Array(6)];
		for (const omega of [0.7, 3, 12, 50, 200, 700]) {
			model(omega, x);
			held.respond(omega, y);
			const size = Math.hypot(x[0]!, x[1]!);
			expect(Math.hypot(x[0]! - y[0]!, x[1]! - y[1]!) / size).toBeLessThan(1e-9);
			expect([y[4], y[5]]).toEqual([y[0], y[1]]);
		}
	});
	it("opens at u as the whole craft does with the other loops closed", () => {
		const T = alone.periodSec;
		const loop = coupledLoops(craftAnswer(linear, chain), set, T, alone.rateSpacingSec)[2]!.rate!;
		const law = axisResponse(set, "yaw", T, alone.rateSpacingSec);
		const [l, g, c] = [new Float64Array(2), new Float64Array(4), new Float64Array(8)];
		for (const omega of [0.7, 3, 12, 50, 200, 700]) {
			loop(omega, l);
			held.respond(omega, g);
			law.respond(omega, c);
			const re = -(c[0]! * g[0]! - c[1]! * g[1]!);
			const im = -(c[0]! * g[1]! + c[1]! * g[0]!);
			expect(Math.hypot(re - l[0]!, im - l[1]!) / Math.hypot(re, im)).toBeLessThan(1e-9);
		}
	});
	it("closed, grows or dies as the craft's own map over a hyperperiod does", () => {
		const closed = closeLoop(held, set);
		const { re, im } = eigenvalues(closed.a, closed.order);
		// An outer integral that no gain feeds stays at 1 by itself; the craft's map leaves it out.
		const idle = (i: number): boolean => Math.hypot(re[i]! - 1, im[i]!) < 1e-12;
		const largest = Math.max(...Array.from(re, (r, i) => (idle(i) ? 0 : Math.hypot(r, im[i]!))));
		const whole = liftedLoop(linear, chain, set, [0, 1, 2], [], true);
		expect(largest).toBeCloseTo(whole.radius([UNCHANGED, UNCHANGED, UNCHANGED]), 8);
	});
});

it("alone, yaw of a craft that reaches far with a heavy load seems to turn the wrong way; held it does not", () => {
	const loaded = loadScenario(
		readFileSync(new URL("../../scenarios/sandpiper.json", import.meta.url), "utf8"),
	);
	if (!loaded.ok) throw new Error(JSON.stringify(loaded.errors));
	const { craft, gainSets } = loaded.scenario;
	const point: OperatingPoint = {
		...NOMINAL_POINT,
		limbRad: [2.356, -2.356],
		load: { massKg: 0.8 },
	};
	const { linear, chain, alone } = at(craft, point);
	const gains = fixedSet(gainSets[0]!, 0, 0);
	const all = liftedLoop(linear, chain, gains, [0, 1, 2], [], true);
	expect(all.radius([UNCHANGED, UNCHANGED, UNCHANGED])).toBeLessThan(1);
	expect(polesOutside(closeLoop(alone, gains))).toBeGreaterThan(0);
	expect(polesOutside(closeLoop(heldYaw(linear, chain, alone, gains), gains))).toBe(0);
	expect(judgedYaw(linear, chain, alone, gains).held).toBe(true);
	// Loops that do not hold roll and pitch hold nothing.
	const loose = { ...gains, roll: { ...gains.roll, kp: 100 * gains.roll.kp } };
	expect(judgedYaw(linear, chain, alone, loose)).toEqual({ plant: alone, held: false, touched: true });
	expect(createMarginCells("yaw", [point])(craft, gainSets[0]!)).toMatchObject({ stable: true });
});
