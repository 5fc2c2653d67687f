import { describe, expect, it } from "vitest";
import sandpiper from "../../scenarios/sandpiper.json";
import { NOMINAL_POINT } from "../../src/craft/model.ts";
import { fromFirmware, toFirmware } from "../../src/handover/firmware-gains.ts";
import { defaultFirmwareUnits, type FirmwareUnits } from "../../src/handover/firmware-units.ts";
import {
	describeLimbLead,
	leadFactors,
	leadFromFirmware,
	leadToFirmware,
	leadUnit,
} from "../../src/handover/limb-lead.ts";
import { plantWithLoads } from "../../src/physics/plant-at.ts";
import { trimAt } from "../../src/physics/trim.ts";
import { loadDocument } from "../../src/scenario/load.ts";

const loaded = loadDocument(sandpiper);
if (!loaded.ok) throw new Error(loaded.errors[0]!.message);
const { craft, gainSets } = loaded.scenario;
const units = defaultFirmwareUnits(500);
const factors = leadFactors(craft);
const counts: FirmwareUnits = {
	...units,
	output: "counts",
	outputFullScale: 2500,
	mixLargestEntry: [0.5, 0.8, 1],
};

describe("the limb's feedforward in the builder's units", () => {
	it("turns back what a weight off the middle does: the trim that the whole craft then has, within 2 %", () => {
		const uOf = (forward: number, right: number) => {
			const loads = [{ massKg: 0.05, positionM: [forward, right, 0.05] as const }];
			const found = trimAt(craft, plantWithLoads(craft, NOMINAL_POINT, loads), NOMINAL_POINT);
			if (!found.feasible) throw new Error(found.reason);
			return found.trim.u;
		};
		const torque = 9.80665 * 0.05 * 0.15;
		const middle = uOf(0, 0);
		const pitch = uOf(0.15, 0)[1] - middle[1];
		const roll = uOf(0, 0.15)[0] - middle[0];
		expect(pitch).toBeGreaterThan(0);
		expect(roll).toBeLessThan(0);
		expect(Math.abs((factors.pitch * torque) / pitch - 1)).toBeLessThan(0.02);
		expect(Math.abs((-factors.roll * torque) / roll - 1)).toBeLessThan(0.02);
	});
	it.each([
		["us", units],
		["counts, another mix table", counts],
	])("there and back is the same number: %s", (_, each) => {
		for (const lead of [0.25, 1, 0.7])
			expect(leadFromFirmware(leadToFirmware(lead, factors, each), factors, each)).toBeCloseTo(lead, 14);
	});
	it("scales as every output does", () => {
		const us = leadToFirmware(1, factors, units);
		const other = leadToFirmware(1, factors, counts);
		expect(us.pitch).toBeCloseTo(1000 * factors.pitch, 12);
		expect(other.roll).toBeCloseTo((2500 / 0.5) * factors.roll, 12);
		expect(other.pitch).toBeCloseTo((2500 / 0.8) * factors.pitch, 12);
		expect([leadUnit(units), leadUnit(counts)]).toEqual(["us per N m", "counts per N m"]);
	});
	it("refuses two axes that are not of one share", () => {
		const typed = leadToFirmware(1, factors, units);
		expect(() => leadFromFirmware({ ...typed, roll: 2 * typed.roll }, factors, units)).toThrow(
			/are limbLead 2 and 1, expected one for both/,
		);
		expect(() => leadToFirmware(1, factors, { ...units, outputFullScale: 0 })).toThrow("outputFullScale: 0");
	});
	it("is not lost on the way through firmware numbers", () => {
		const set = { ...gainSets[0]!, limbLead: 0.5 };
		expect(fromFirmware(toFirmware(set, units), units, set).limbLead).toBe(0.5);
	});
	it("is not lost from a file whose gains are in the builder's units", () => {
		const [first] = sandpiper.gainSets;
		const again = loadDocument({
			...sandpiper,
			gainSets: [{ ...first, units: "firmware", limbLead: 0.5 }],
		});
		if (!again.ok) throw new Error(again.errors[0]!.message);
		expect(again.scenario.gainSets[0]!.limbLead).toBe(0.5);
	});
	it("says what to compute, with the numbers that it takes", () => {
		const said = describeLimbLead(0.5, craft, counts);
		const gains = leadToFirmware(0.5, factors, counts);
		const [typed] = /[\d.]+(?= counts per N m to pitch's output)/.exec(said)!;
		expect(Number(typed) / gains.pitch).toBeCloseTo(1, 2);
		const [, share, factor, scale, entry, product] =
			/Roll: limbLead ([\d.]+) x ([\d.]+) per N m x ([\d.]+) counts \/ ([\d.]+) = ([\d.]+) counts per N m/.exec(
				said,
			)!;
		expect((Number(share) * Number(factor) * Number(scale)) / Number(entry) / Number(product)).toBeCloseTo(
			1,
			2,
		);
		const [, grams, mm, torque, more] =
			/([\d.]+) g that moved ([\d.]+) mm forward ask for ([\d.]+) N m, so pitch gets ([\d.]+) counts/.exec(
				said,
			)!;
		expect((Number(grams) * Number(mm) * 9.80665e-6) / Number(torque)).toBeCloseTo(1, 2);
		expect((gains.pitch * Number(torque)) / Number(more)).toBeCloseTo(1, 2);
	});
});
