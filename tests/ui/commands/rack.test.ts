import { describe, expect, it } from "vitest";
import {
	copySet,
	freeName,
	putSet,
	removeSet,
	renameSet,
	setsOf,
	toggleShown,
} from "../../../src/ui/commands/rack.ts";
import type { Command, PageState } from "../../../src/ui/state/model.ts";
import { DEMO_STATE } from "../sample.ts";

const done = (...commands: readonly Command[]): PageState =>
	commands.reduce((state, command) => command.apply(state), DEMO_STATE);
const names = (state: PageState) => setsOf(state).map((set) => set.name);

describe("the rack", () => {
	it("copies a set under the next free letter and works on the copy, the first one shown beside", () => {
		const state = done(copySet("A"));
		expect(names(state)).toEqual(["A", "B", "C"]);
		expect(state.view).toMatchObject({ set: "C", shown: ["A"], base: "A" });
		expect(setsOf(state)[2]!["roll"]).toEqual(setsOf(state)[0]!["roll"]);
	});
	it("holds six", () => {
		const full = done(copySet("A"), copySet("A"), copySet("A"), copySet("A"));
		expect(names(full).join("")).toBe("ABCDEF");
		expect(() => copySet("A").apply(full)).toThrow("the rack is full");
		expect(() => putSet({ name: "mine" }).apply(full)).toThrow("the rack is full");
		expect(names(putSet({ name: "B", roll: {} }).apply(full))).toHaveLength(6);
		expect(freeName(done(removeSet("A")))).toBe("A");
	});
	it("names, and keeps what points at the name", () => {
		const state = done(toggleShown("B"), renameSet("B", "windy day"));
		expect(names(state)).toEqual(["A", "windy day"]);
		expect(state.view.shown).toEqual(["windy day"]);
		expect(() => done(renameSet("B", "A"))).toThrow("another set is named 'A'");
		expect(() => done(renameSet("B", "  "))).toThrow("needs a name");
		expect(() => done(removeSet("Z"))).toThrow("no gain set 'Z'");
	});
	it("switches a set on and off without touching the document", () => {
		const state = done(toggleShown("B"), toggleShown("B"));
		expect(state.view.shown).toEqual([]);
		expect(state.document).toBe(DEMO_STATE.document);
	});
});
