import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import type { GainSet } from "../../src/control/spec.ts";
import { gainSetDocument, withGainSet } from "../../src/scenario/gain-set-document.ts";
import { loadScenario } from "../../src/scenario/load.ts";

const file = readFileSync(new URL("../../scenarios/sandpiper.json", import.meta.url), "utf8");
const shipped = JSON.parse(file) as { gainSets: Record<string, unknown>[]; craft: Record<string, unknown> };

const written = {
	hinge: "boom",
	angles: ["0 deg", "90 deg"],
	loads: [0, "300 g"],
	roll: {
		kp: [
			[1, 1.1],
			[1.2, 1.4],
		],
	},
};

function load(schedule: unknown, craft: Record<string, unknown> = shipped.craft) {
	const [first, ...rest] = shipped.gainSets;
	return loadScenario(JSON.stringify({ ...shipped, craft, gainSets: [{ ...first, schedule }, ...rest] }));
}

function setOf(loaded: ReturnType<typeof loadScenario>): GainSet {
	if (!loaded.ok) throw new Error(JSON.stringify(loaded.errors));
	return loaded.scenario.gainSets[0]!;
}

const saidOf = (loaded: ReturnType<typeof loadScenario>): string[] =>
	loaded.ok ? [] : loaded.errors.map(({ message }) => message);

describe("a schedule in the file", () => {
	it("is read with units; what is left out stays as the set says", () => {
		const { schedule } = setOf(load(written));
		expect(schedule!.link).toBe(0);
		expect(schedule!.anglesRad).toEqual([0, Math.PI / 2]);
		expect(schedule!.loadsKg).toEqual([0, 0.3]);
		expect(schedule!.factors.roll.kp).toEqual(written.roll.kp);
		expect(schedule!.factors.pitch.kp).toEqual([
			[1, 1],
			[1, 1],
		]);
	});
	it("comes back from the file that is written", () => {
		const set = setOf(load(written));
		const again = loadScenario(JSON.stringify(withGainSet(shipped, gainSetDocument(set, ""))));
		if (!again.ok) throw new Error(JSON.stringify(again.errors));
		expect(again.scenario.gainSets.find(({ name }) => name === set.name)!.schedule).toEqual(set.schedule);
	});
	it("may follow the load alone", () => {
		const { schedule } = setOf(load({ loads: [0, "0.2 kg"], yaw: { ki: [[1, 0.5]] } }));
		expect(schedule!.anglesRad).toEqual([0]);
		expect(schedule!.factors.yaw.ki).toEqual([[1, 0.5]]);
	});
	it.each([
		[
			"a hinge that is not there",
			{ ...written, hinge: "bom" },
			/schedule\.hinge.*bom.*a link of the limb: boom, scoop/,
		],
		[
			"angles out of order",
			{ ...written, angles: ["90 deg", "0 deg"] },
			/schedule\.angles\[1\].*above 90 deg/,
		],
		["a load twice", { ...written, loads: ["300 g", "300 g"] }, /schedule\.loads\[1\].*above 300 g/],
		["a row missing", { ...written, roll: { kp: [[1, 1]] } }, /schedule\.roll\.kp.*2 rows, one per angle/],
		[
			"a column missing",
			{ ...written, roll: { kp: [[1], [1, 1]] } },
			/schedule\.roll\.kp\[0\].*2 factors, one per load/,
		],
		[
			"a factor below 0",
			{
				...written,
				roll: {
					kp: [
						[1, -1],
						[1, 1],
					],
				},
			},
			/schedule\.roll\.kp\[0\]\[1\]/,
		],
		[
			"an angle loop of yaw",
			{
				...written,
				yaw: {
					kAngle: [
						[1, 1],
						[1, 1],
					],
				},
			},
			/schedule\.yaw.*kAngle/,
		],
	])("says what is wrong: %s", (_, schedule, expected) => {
		const said = saidOf(load(schedule));
		expect(
			said.some((sentence) => expected.test(sentence)),
			said.join("\n"),
		).toBe(true);
	});
	it("of angles needs a limb", () => {
		const { limb: _, ...bare } = shipped.craft;
		const said = saidOf(load({ angles: [0, 1], loads: [0] }, bare));
		expect(
			said.some((sentence) => /schedule\.angles.*no limb/.test(sentence)),
			said.join("\n"),
		).toBe(true);
	});
});
