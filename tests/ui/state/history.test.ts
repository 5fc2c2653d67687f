import { describe, expect, it } from "vitest";
import { lookAt } from "../../../src/ui/commands/look-at.ts";
import { setValue } from "../../../src/ui/commands/set-value.ts";
import { begin, perform, redo, undo } from "../../../src/ui/state/history.ts";
import { DEMO_STATE } from "../sample.ts";

const massOf = (history: ReturnType<typeof begin>) =>
	(history.present.document["craft"] as { load: { mass: unknown } }).load.mass;
const load = (text: string, joins?: string) => setValue("craft.load.mass", text, "load", joins);

describe("history", () => {
	it("goes back and forth, and forgets the future once something new is done", () => {
		let h = perform(perform(begin(DEMO_STATE), load("200 g")), load("250 g"));
		h = undo(h);
		expect(massOf(h)).toBe("200 g");
		h = undo(h);
		expect(h.present).toBe(DEMO_STATE);
		expect(undo(h)).toBe(h);
		h = redo(redo(h));
		expect(massOf(h)).toBe("250 g");
		h = perform(undo(h), load("1 g"));
		expect(redo(h)).toBe(h);
	});
	it("takes a drag for one step", () => {
		let h = begin(DEMO_STATE);
		for (const text of ["201 g", "202 g", "203 g"]) h = perform(h, load(text, "drag"));
		expect(massOf(undo(h))).toBe("300 g");
		h = perform(h, load("204 g", "another drag"));
		expect(massOf(undo(h))).toBe("203 g");
	});
	it("does not count looking elsewhere, and keeps the view when there is nothing to undo", () => {
		const h = perform(begin(DEMO_STATE), lookAt({ place: "gains" }));
		expect(h.past).toHaveLength(0);
		expect(undo(h).present.view.place).toBe("gains");
	});
	it("never changes a document in place", () => {
		const text = JSON.stringify(DEMO_STATE);
		perform(begin(DEMO_STATE), load("1 g"));
		expect(JSON.stringify(DEMO_STATE)).toBe(text);
	});
});
