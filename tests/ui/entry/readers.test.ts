import { describe, expect, it } from "vitest";
import { NUMBER, quantityReader, TEXT, WHOLE } from "../../../src/ui/entry/readers.ts";

describe("quantityReader", () => {
	const length = quantityReader("length");
	it("gives a bare number the unit of what stands beside, and a plain 0 too", () => {
		expect(length.read("12", "-40 mm")).toMatchObject({
			ok: true,
			written: "12 mm",
			remark: "read as 12 mm",
		});
		expect(length.show(0, "-40 mm")).toBe("0 mm");
		expect(length.show(0)).toBe("0 m");
		expect(length.show(0.04, "-40 in")).toBe("40 mm");
	});
	it("asks for the unit where nothing says one", () =>
		expect(length.read("12", "")).toMatchObject({ ok: false, hint: "write the unit, such as '520 mm'" }));
	it("takes one word in place of a number, and says so where neither was meant", () => {
		const phase = quantityReader("time", "free");
		expect(phase.read(" Free ", "")).toMatchObject({ ok: true, written: "free" });
		expect(phase.show("free")).toBe("free");
		const refused = phase.read("sometimes", "");
		expect(refused.ok ? "" : refused.expected).toContain("or 'free'");
		expect(length.read("free", "").ok).toBe(false);
	});
	it("steps from nothing by whole small units", () => {
		expect(length.nudge?.("0 mm", 1)).toBe("1 mm");
		expect(length.nudge?.("0 mm", -10)).toBe("-10 mm");
		expect(length.nudge?.("520 mm", 1)).toBe("525 mm");
	});
});

describe("plain values", () => {
	it("numbers, with a point or a comma", () => {
		expect(NUMBER.read("0,97", "")).toMatchObject({ written: 0.97 });
		for (const text of ["0.97 mm", "1,000,000", "one", "0x10", "Infinity"])
			expect(NUMBER.read(text, "").ok, text).toBe(false);
	});
	it("whole numbers, stepped by one", () => {
		expect(WHOLE.read("4", "")).toMatchObject({ written: 4 });
		expect(WHOLE.read("4.5", "")).toMatchObject({ ok: false, expected: "a whole number" });
		expect(WHOLE.nudge?.("4", 1)).toBe("5");
		expect(WHOLE.nudge?.("four", 1)).toBe("four");
	});
	it("text as it is", () => {
		expect(TEXT.read("  front right ", "")).toMatchObject({ written: "front right" });
		expect(TEXT.show(3)).toBe("");
		expect(TEXT.nudge).toBeNull();
	});
});
