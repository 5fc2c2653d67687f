import { expect, test } from "vitest";
import { meant, nearest } from "../../src/cli/suggest.ts";
import { listOption, parseNumber } from "../../src/cli/values.ts";

test("numbers in plain decimal notation and nothing else", () => {
	expect(["3", "-0.5", ".5", "1e-3", "+2.", " 7 "].map(parseNumber)).toEqual([3, -0.5, 0.5, 0.001, 2, 7]);
	for (const text of ["", "x", "1,2", "0x10", "Infinity", "NaN", "1e999", "1 2", "--3", "1e", "5px"])
		expect(parseNumber(text), text).toBeNull();
});

test("coefficients by comma or blank", () => {
	expect(listOption("--den")("1,3, 3 1")).toEqual([1, 3, 3, 1]);
	expect(() => listOption("--den")("1,b")).toThrow("--den '1,b': 'b' is not a number");
	expect(() => listOption("--den")(" , ")).toThrow("--den ' , ': expected numbers");
});

test("the nearest name, when it is near", () => {
	expect(nearest("marigns", ["margins", "tune"])).toBe("margins");
	expect(nearest("sandpipper", ["wren", "sandpiper"])).toBe("sandpiper");
	expect(nearest("banana", ["margins", "tune"])).toBeNull();
	expect(meant("tunne", ["margins", "tune"])).toBe("Did you mean 'tune'? There is: margins, tune.");
	expect(meant("x", [])).toBe("");
});
