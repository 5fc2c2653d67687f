import { describe, expect, it } from "vitest";
import { forget, keep, keptScenarios, type Shelf } from "../../../src/ui/keeping/slots.ts";
import { DEMO_STATE } from "../sample.ts";

/** A shelf that holds so many characters. */
function shelf(room = Number.POSITIVE_INFINITY): Shelf & { readonly entries: Map<string, string> } {
	const entries = new Map<string, string>();
	return {
		entries,
		getItem: (key) => entries.get(key) ?? null,
		setItem(key, value) {
			const used = [...entries].reduce((sum, [k, v]) => sum + (k === key ? 0 : v.length), 0);
			if (used + value.length > room) {
				const error = new Error("no room");
				error.name = "QuotaExceededError";
				throw error;
			}
			entries.set(key, value);
		},
		removeItem: (key) => void entries.delete(key),
		key: (index) => [...entries.keys()][index] ?? null,
		get length() {
			return entries.size;
		},
	};
}

describe("slots", () => {
	it("keeps what each tab works on, newest first", () => {
		const s = shelf();
		expect(keep(s, "one", DEMO_STATE, "first", 1)).toBe("");
		expect(keep(s, "two", DEMO_STATE, "second", 2)).toBe("");
		expect(keep(s, "one", DEMO_STATE, "first", 3)).toBe("");
		expect(keptScenarios(s).map((each) => each.name)).toEqual(["first", "second"]);
		expect(keptScenarios(s)[0]!.state).toEqual(DEMO_STATE);
		forget(s, "one");
		expect(keptScenarios(s).map((each) => each.slot)).toEqual(["two"]);
	});
	it("passes over what it cannot read, and leaves it there", () => {
		const s = shelf();
		s.setItem("levelhead.kept.x", "{");
		s.setItem("levelhead.kept.y", '{"format":99,"state":{"document":{}}}');
		s.setItem("of someone else", "{}");
		expect(keptScenarios(s)).toEqual([]);
		expect(s.length).toBe(3);
	});
	it("keeps a dozen", () => {
		const s = shelf();
		for (let i = 0; i < 15; i++) keep(s, `slot ${i}`, DEMO_STATE, `${i}`, i);
		expect(keptScenarios(s).map((each) => each.name)).toEqual("14 13 12 11 10 9 8 7 6 5 4 3".split(" "));
	});
	it("makes room from the oldest, never from the newest few; then says so", () => {
		const size = JSON.stringify(DEMO_STATE).length + 200;
		const s = shelf(6.5 * size);
		for (let i = 0; i < 8; i++) expect(keep(s, `slot ${i}`, DEMO_STATE, `${i}`, i)).toBe("");
		expect(keptScenarios(s).map((each) => each.name)).toEqual("7 6 5 4 3 2".split(" "));
		expect(keep(shelf(10), "one", DEMO_STATE, "n", 1)).toContain("storage is full");
		const refusing: Shelf = {
			...shelf(),
			setItem() {
				throw new Error("denied");
			},
		};
		expect(keep(refusing, "one", DEMO_STATE, "n", 1)).toContain("refuses to keep");
	});
});
