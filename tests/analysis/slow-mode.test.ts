import { describe, expect, it } from "vitest";
import { linearise } from "../../src/analysis/linearise.ts";
import { slowMode } from "../../src/analysis/slow-mode.ts";
import { timingChain } from "../../src/analysis/timing-chain.ts";
import type { FixedGainSet } from "../../src/control/spec.ts";
import { type Craft, NOMINAL_POINT } from "../../src/craft/model.ts";
import { sampleCraft, sampleGains } from "../fixtures/craft.ts";

const G = 9.80665;

/** The sample craft with its hubs so far above the centre of mass, so that its in-plane drag tilts it. */
function topHeavy(hubsAboveM: number): Craft {
	const craft = sampleCraft();
	return {
		...craft,
		rotors: craft.rotors.map((r) => ({ ...r, positionM: [r.positionM[0], r.positionM[1], -hubsAboveM] })),
	};
}

/** Rate-only gains with kp alone. */
function proportional(kp: number): FixedGainSet {
	const set = sampleGains();
	const only = { ...set.roll, kp, ki: 0, kd: 0 };
	return { ...set, structure: "rateOnly", roll: only, pitch: only };
}

describe("the slow mode of speed and tilt in rate-only use", () => {
	/**
	 * Slow against the rate loop: drag of the hubs h above the centre of mass turns the craft until kp holds it,
	 * q = (d h m / K) v with K the torque that kp answers per rad/s and d = 4 cH W / m; then theta' = q and
	 * v' = -g theta - d (v - h q): s^2 + d s (1 - h c) + g c = 0 with c = d h m / K.
	 */
	function closedForm(craft: Craft, kp: number, hubsAboveM: number) {
		const found = linearise(craft, NOMINAL_POINT);
		if (!found.feasible) throw new Error(found.reason);
		const { linear } = found;
		const w = Math.sqrt((1.9 * G) / (4 * 1.891e-5));
		const d = (4 * 1.2e-4 * w) / 1.9;
		const index = (name: string): number => linear.names.indexOf(name);
		// Angular acceleration per unit of u in steady flight, and the rotors' own damping of turning.
		const at = index("pitchMomentum") * linear.order;
		const perUnit = linear.a[at + index("pitchRotors")]!;
		const own = -linear.a[at + index("pitchMomentum")]!;
		const c = (d * hubsAboveM * 1.9) / (0.025 * (kp * perUnit + own));
		const damping = d * (1 - hubsAboveM * c);
		const inside = damping * damping - 4 * G * c;
		return inside < 0
			? { growth: -damping / 2, hz: Math.sqrt(-inside) / (4 * Math.PI) }
			: { growth: (-damping + Math.sqrt(inside)) / 2, hz: 0 };
	}

	function found(craft: Craft, set: FixedGainSet) {
		const result = linearise(craft, NOMINAL_POINT);
		if (!result.feasible) throw new Error(result.reason);
		return slowMode(result.linear, timingChain(craft.timing), set)!;
	}

	it.each([
		["swings: hubs 20 mm above", 0.02, 0.12],
		["swings faster: hubs 40 mm above", 0.04, 0.12],
		["drifts: hubs 2 mm above and much kp", 0.002, 0.3],
	])("%s", (_, hubsAboveM, kp) => {
		const craft = topHeavy(hubsAboveM);
		const mode = found(craft, proportional(kp));
		const { growth, hz } = closedForm(craft, kp, hubsAboveM);
		expect(Math.abs(mode.growthPerSec / growth - 1)).toBeLessThan(0.05);
		if (hz === 0) expect(mode.hz).toBe(0);
		else expect(Math.abs(mode.hz / hz - 1)).toBeLessThan(0.02);
		expect(mode.sentence).toContain(hz > 0.01 ? "swings" : "drifts");
	});

	it("hubs below the centre of mass: tilt runs away, and the sentence says how fast", () => {
		const craft = topHeavy(-0.02);
		const mode = found(craft, proportional(0.12));
		const { growth } = closedForm(craft, 0.12, -0.02);
		expect(growth).toBeGreaterThan(0);
		expect(Math.abs(mode.growthPerSec / growth - 1)).toBeLessThan(0.05);
		expect(mode.sentence).toContain(`doubling every ${(Math.LN2 / mode.growthPerSec).toFixed(1)} s`);
	});
});
