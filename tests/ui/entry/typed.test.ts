import { describe, expect, it } from "vitest";
import { nudged, readTyped, shownQuantity, sideBySide } from "../../../src/ui/entry/typed.ts";

describe("readTyped", () => {
	it("keeps what was typed, unit and all", () =>
		expect(readTyped("length", "17.7 in", "520 mm")).toMatchObject({
			ok: true,
			text: "17.7 in",
			remark: "",
		}));
	it("gives a bare number the unit that stood there, and says so", () => {
		const read = readTyped("length", "450", "520 mm");
		expect(read).toMatchObject({ ok: true, text: "450 mm", remark: "read as 450 mm" });
		expect(read.ok && read.value).toBeCloseTo(0.45, 12);
	});
	it("understands grams of force and a decimal comma", () => {
		const force = readTyped("force", "300 g", "8 N");
		expect(force.ok && force.value).toBeCloseTo(0.3 * 9.80665, 12);
		const mass = readTyped("mass", "1,9 kg", "");
		expect(mass.ok && mass.value).toBeCloseTo(1.9, 12);
	});
	it("says what was expected", () =>
		expect(readTyped("mass", "heavy", "1 kg")).toMatchObject({
			ok: false,
			expected: expect.stringContaining("a mass"),
		}));
});

describe("nudged", () => {
	it.each([
		["520 mm", 1, "525 mm"],
		["1.9 kg", -1, "1.89 kg"],
		["0.065", 1, "0.066"],
		["100 Hz", 10, "110 Hz"],
		["0", 1, "0.01"],
		["-0.1 deg", 1, "-0.099 deg"],
		["none", 1, "none"],
	])("%s by %i is %s", (text, steps, expected) => expect(nudged(text, steps)).toBe(expected));
});

describe("shownQuantity", () => {
	it("leaves text as typed and gives plain numbers a unit", () => {
		expect(shownQuantity("mass", "1.9 kg")).toBe("1.9 kg");
		expect(shownQuantity("length", 0.52)).toBe("520 mm");
		expect(shownQuantity("mass", undefined)).toBe("");
	});
});

describe("sideBySide", () => {
	it("says a shared unit once", () => {
		expect(sideBySide(["183.8 mm", "0 mm", "-40 mm"])).toBe("183.8, 0, -40 mm");
		expect(sideBySide(["7 in", "0 mm"])).toBe("7 in, 0 mm");
		expect(sideBySide(["1", "2"])).toBe("1, 2");
	});
});
