import { describe, expect, it } from "vitest";
import { loadDocument } from "../../../src/scenario/load.ts";
import {
	addDrill,
	addEvent,
	copyDrill,
	drillsOf,
	removeDrill,
	removeEvent,
	setEventField,
} from "../../../src/ui/commands/drills.ts";
import { eventKinds, eventValue } from "../../../src/ui/places/proof/event-kinds.ts";
import type { Command, PageState } from "../../../src/ui/state/model.ts";
import { DEMO_STATE } from "../sample.ts";
import { readState } from "./on-demo.ts";

const done = (...commands: readonly Command[]): PageState =>
	commands.reduce((state, command) => command.apply(state), DEMO_STATE);
const read = (state: PageState) => {
	const loaded = loadDocument(state.document);
	if (!loaded.ok) throw new Error(loaded.errors[0]!.message);
	return loaded.scenario.drills;
};

describe("drills of one's own", () => {
	it("are written beside the others, chosen, and named apart", () => {
		const state = done(addDrill("mine"), addDrill("mine"));
		expect(
			drillsOf(state)
				.slice(-2)
				.map((each) => each.name),
		).toEqual(["mine", "mine 2"]);
		expect(state.view.drill).toBe("mine 2");
	});
	it("take events, change and lose them", () => {
		const made = done(addDrill("mine"), addEvent("mine", { kind: "stall", at: "1 s", duration: "100 ms" }));
		expect(read(made).at(-1)!.events).toEqual([{ atSec: 1, kind: "stall", durationSec: 0.1 }]);
		const longer = setEventField("mine", 0, "duration", "0.2 s").apply(made);
		expect(read(longer).at(-1)!.events[0]).toMatchObject({ durationSec: 0.2 });
		expect(read(removeEvent("mine", 0).apply(longer)).at(-1)!.events).toEqual([]);
	});
	it("every kind that can be added reads as it is first written", () => {
		for (const { kind, first } of eventKinds(readState(DEMO_STATE).craft)) {
			const state = done(addDrill("mine"), addEvent("mine", { kind, ...first }));
			expect(read(state).at(-1)!.events.length, kind).toBeGreaterThan(0);
		}
	});
	it("are copied and taken out; a plain drill stands in no file", () => {
		const state = done(copyDrill("roll step"), removeDrill("pitch step"));
		expect(drillsOf(state).some((each) => each.name === "roll step, mine")).toBe(true);
		expect(drillsOf(state).some((each) => each.name === "pitch step")).toBe(false);
		expect(() => done(copyDrill("no such"))).toThrow("begin a new one");
		expect(() => done(removeDrill("no such"))).toThrow("no drill 'no such'");
	});
});

describe("eventValue", () => {
	it("reads numbers and lists as JSON, the rest as text, nothing as nothing", () => {
		expect(eventValue("0.3")).toBe(0.3);
		expect(eventValue('["2 N", 0, 0]')).toEqual(["2 N", 0, 0]);
		expect(eventValue(" 10 deg ")).toBe("10 deg");
		expect(eventValue(" ")).toBeUndefined();
	});
});
