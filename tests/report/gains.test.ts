import { expect, test } from "vitest";
import sandpiper from "../../scenarios/sandpiper.json";
import wren from "../../scenarios/wren.json";
import { leadFactors, leadToFirmware } from "../../src/handover/limb-lead.ts";
import { firmwareGainsJson, gainRows } from "../../src/report/gains.ts";
import { loadDocument } from "../../src/scenario/load.ts";

const open = (document: unknown) => {
	const loaded = loadDocument(document);
	if (!loaded.ok) throw new Error(loaded.errors[0]!.message);
	return loaded.scenario;
};
const { craft, firmware, gainSets } = open(sandpiper);
const [set] = gainSets;

test("a set that feeds limb and load forward has it among the numbers to type in, per N m, and says what to compute", () => {
	const led = { ...set!, limbLead: 0.5 };
	const want = leadToFirmware(0.5, leadFactors(craft), firmware);
	const json = firmwareGainsJson(led, firmware, craft);
	expect(json.pitch["limbLead"]).toEqual({ value: want.pitch, unit: "us per N m" });
	expect(json.roll["limbLead"]).toEqual({ value: want.roll, unit: "us per N m" });
	expect(json.yaw["limbLead"]).toBeUndefined();
	expect(json.limbLead).toContain("every tick your code adds up");
	const rows = gainRows(led, firmware, craft).filter(({ name }) => name === "limb lead");
	expect(rows.map(({ axis, unit, internal }) => [axis, unit, internal])).toEqual([
		["roll", "us per N m", "50.0 % of what they ask"],
		["pitch", "us per N m", "50.0 % of what they ask"],
	]);
});

test("none where the set feeds none, or there is no limb", () => {
	expect(firmwareGainsJson(set!, firmware, craft).limbLead).toBe("");
	const small = open(wren);
	const json = firmwareGainsJson({ ...small.gainSets[0]!, limbLead: 1 }, small.firmware, small.craft);
	expect(json.limbLead).toBe("");
	expect(json.pitch["limbLead"]).toBeUndefined();
});
