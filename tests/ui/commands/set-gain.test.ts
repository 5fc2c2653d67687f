import { describe, expect, it } from "vitest";
import { loadDocument } from "../../../src/scenario/load.ts";
import { setGain } from "../../../src/ui/commands/set-gain.ts";
import { setValue } from "../../../src/ui/commands/set-value.ts";
import type { PageState } from "../../../src/ui/state/model.ts";
import { DEMO_STATE } from "../sample.ts";

function gains(state: PageState) {
	const loaded = loadDocument(state.document);
	if (!loaded.ok) throw new Error(loaded.errors[0]!.message);
	return loaded.scenario.gainSets[0]!;
}

describe("setGain", () => {
	it("writes one gain of one axis", () => {
		const state = setGain("A", "roll", "kp", 0.05).apply(DEMO_STATE);
		expect(gains(state).roll.kp).toBe(0.05);
		expect(gains(state).pitch).toEqual(gains(DEMO_STATE).pitch);
		expect(setGain("A", "roll", "kp", 0.05).apply(state)).toBe(state);
	});
	it("keeps the builder's own units where the set is written in them", () => {
		const firmware = setValue("gainSets[0].units", "firmware").apply(DEMO_STATE) as PageState;
		const before = gains(firmware);
		const state = setGain("A", "pitch", "ki", before.pitch.ki * 2).apply(firmware);
		expect(gains(state).pitch.ki).toBeCloseTo(before.pitch.ki * 2, 14);
		expect(gains(state).pitch.kp).toBeCloseTo(before.pitch.kp, 14);
	});
	it("lets pitch stay as it was where the set gave roll for both", () => {
		const sets = DEMO_STATE.document["gainSets"] as readonly Record<string, unknown>[];
		const { pitch: _, ...shared } = sets[0]!;
		const state: PageState = { ...DEMO_STATE, document: { ...DEMO_STATE.document, gainSets: [shared] } };
		const changed = gains(setGain("A", "roll", "kp", 0.09).apply(state));
		expect(changed.roll.kp).toBe(0.09);
		expect(changed.pitch.kp).toBe(gains(state).roll.kp);
	});
	it("refuses what no gain can be", () => {
		expect(() => setGain("A", "roll", "kp", -1).apply(DEMO_STATE)).toThrow("expected a number of 0 or more");
		expect(() => setGain("A", "roll", "kp", Number.NaN).apply(DEMO_STATE)).toThrow("kp of roll");
		expect(() => setGain("Q", "roll", "kp", 1).apply(DEMO_STATE)).toThrow("no gain set 'Q'");
	});
});
