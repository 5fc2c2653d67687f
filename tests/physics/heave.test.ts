import { describe, expect, it } from "vitest";
import { NOMINAL_POINT } from "../../src/craft/model.ts";
import { heaveAt } from "../../src/physics/heave.ts";
import { derivative } from "../../src/physics/kernel.ts";
import { AIR_SIZE, createKernel, OUTSIDE_SIZE, VELOCITY } from "../../src/physics/kernel-layout.ts";
import { craftMixer } from "../../src/physics/mixer-at.ts";
import { plantAt } from "../../src/physics/plant-at.ts";
import { trimAt } from "../../src/physics/trim.ts";
import { sampleCraft } from "../fixtures/craft.ts";

const at = (change: Parameters<typeof sampleCraft>[0] = {}) => {
	const craft = sampleCraft(change);
	const plant = plantAt(craft, NOMINAL_POINT);
	const found = trimAt(craft, plant, NOMINAL_POINT);
	if (!found.feasible) throw new Error(found.reason);
	return { craft, plant, trim: found.trim, heave: heaveAt(plant, craftMixer(craft), found.trim) };
};

describe("heave about hover", () => {
	it("damping is what the equations of motion themselves say, 1e-6", () => {
		const { plant, trim, heave } = at();
		const kernel = createKernel(plant);
		const acceleration = (down: number): number => {
			const x = trim.state.slice();
			x[VELOCITY + 2] = down;
			const out = new Float64Array(x.length);
			derivative(
				kernel,
				x,
				new Float64Array(x.length),
				new Float64Array(AIR_SIZE),
				new Float64Array(OUTSIDE_SIZE),
				out,
			);
			return out[VELOCITY + 2]!;
		};
		const step = 1e-5;
		const damping = -(acceleration(step) - acceleration(-step)) / (2 * step);
		expect(Math.abs(heave.dampingPerSec / damping - 1)).toBeLessThan(1e-6);
	});
	it("a battery without resistance leaves slope and lag of the bare rotors, by hand", () => {
		const stiff = at({ battery: { ...sampleCraft().battery, resistanceOhm: 1e-9 } });
		const w = Math.sqrt((1.9 * 9.80665) / (4 * 1.891e-5));
		const volts = stiff.trim.voltageV / 14.8;
		expect(stiff.heave.lagSec).toBeCloseTo(0.065, 7);
		expect(stiff.heave.slope).toBeCloseTo((4 * 2 * 1.891e-5 * w * (655 / 0.95) * volts) / 1.9, 4);
		expect(stiff.heave.dampingPerSec).toBeCloseTo((4 * 1.03e-3 * w) / 1.9, 8);
	});
	it("sag takes the same share of slope and lag", () => {
		const { heave, trim } = at();
		const w = trim.speedsRadPerSec[0]!;
		const stiff = (4 * 2 * 1.891e-5 * w * (655 / 0.95) * (trim.voltageV / 14.8)) / 1.9;
		expect(heave.slope).toBeLessThan(stiff);
		expect(heave.lagSec / 0.065).toBeCloseTo(heave.slope / stiff, 6);
	});
});
