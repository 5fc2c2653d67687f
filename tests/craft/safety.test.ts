import { describe, expect, it } from "vitest";
import { NOMINAL_POINT } from "../../src/craft/model.ts";
import { Notes } from "../../src/craft/notes.ts";
import { resolveSafety, resolveSupply } from "../../src/craft/safety.ts";
import { STILL_AIR } from "../../src/flight/drill.ts";
import { fly } from "../../src/flight/engine.ts";
import { loadScenario } from "../../src/scenario/load.ts";
import { sampleCraft } from "../fixtures/craft.ts";

const { battery } = sampleCraft();

describe("the electronics supply's defaults", () => {
	it("are 5 V, and are written down", () => {
		const notes = new Notes();
		expect(resolveSupply(undefined, battery, notes)).toEqual({
			outputV: 5,
			dropoutV: 0.5,
			limitA: 3,
			brownOutV: 4.3,
		});
		expect(notes.assumed.some(({ path }) => path === "craft.supply")).toBe(true);
	});
	it("are 3.3 V where the battery cannot hold 5 V until its own brown-out", () =>
		expect(resolveSupply(undefined, { ...battery, brownOutV: 2.8 }, new Notes()).outputV).toBe(3.3));
	it("give twice what the electronics take", () =>
		expect(resolveSupply(undefined, { ...battery, avionicsPowerW: 20 }, new Notes()).limitA).toBe(8));

	const text = (change: object): string =>
		JSON.stringify({
			levelhead: 2,
			craft: {
				mass: "1.2 kg",
				wheelbase: "450 mm",
				propeller: { diameter: "10 in" },
				motors: { maxThrust: "850 g" },
				timing: { loop: "500 Hz" },
				...change,
			},
			gainSets: [
				{ name: "A", roll: { kAngle: 2, kp: 0.05 }, pitch: { kAngle: 2, kp: 0.05 }, yaw: { kp: 0.1 } },
			],
		});
	it.each([
		["one cell", { battery: { cells: 1 } }],
		["two cells", { battery: { cells: 2 } }],
		["six cells", { battery: { cells: 6 } }],
		["20 W of electronics", { battery: { electronicsPower: "20 W" } }],
		["an output above a small battery's voltage", { battery: { cells: 2 }, supply: { output: "9 V" } }],
	])("let a craft hover: %s", (_, change) => {
		const loaded = loadScenario(text(change));
		if (!loaded.ok) throw new Error(loaded.errors[0]!.message);
		const { craft, gainSets } = loaded.scenario;
		const drill = {
			name: "",
			about: "",
			durationSec: 0.3,
			heightM: 20,
			seed: 1,
			events: [],
			wind: STILL_AIR,
		};
		expect(fly({ craft, point: NOMINAL_POINT, gainSet: gainSets[0]!, drill }).reason).toBe("");
	});
});

describe("what the firmware does by itself", () => {
	it("is nothing where nothing was said: flies on with the last sticks, made live at any throttle and tilt", () => {
		const notes = new Notes();
		expect(resolveSafety(undefined, notes)).toEqual({
			signalLostAfterUs: 500_000,
			onSignalLoss: "keep",
			liveBelowThrottle: null,
			liveBelowTiltRad: null,
		});
		expect(notes.assumed.map(({ path }) => path)).toEqual([
			"craft.safety.signalLostAfter",
			"craft.safety.onSignalLoss",
		]);
	});
});
