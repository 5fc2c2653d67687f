import { describe, expect, test } from "vitest";
import { polynomialText } from "../../src/cli/polynomial-text.ts";
import { paint, paragraph, table, wrapWords } from "../../src/cli/text.ts";
import { digits, fixed, many } from "../../src/report/format.ts";

const plain = paint(false);

describe("table", () => {
	test("columns line up, numbers to the right, no blanks at line ends", () => {
		const text = table(
			[{ title: "axis" }, { title: "kp", align: "right" }, { title: "unit" }],
			[
				["roll", "2.37", "us per deg/s"],
				["yaw", "11.20", ""],
			],
			{ width: 80, paint: plain },
		);
		expect(text).toBe("  axis     kp  unit\n  roll   2.37  us per deg/s\n  yaw   11.20\n");
	});

	test("the last column wraps under itself", () => {
		const text = table(
			[{ title: "" }, { title: "", wrap: true }],
			[["a", "one two three four five six seven eight"]],
			{ width: 30, paint: plain },
		);
		expect(text).toBe("  a  one two three four five\n     six seven eight\n");
	});

	test("colour codes take no room", () => {
		const { red } = paint(true);
		const text = table(
			[{ title: "" }, { title: "" }],
			[
				[red("ab"), "x"],
				["abcd", "y"],
			],
			{ width: 80, paint: plain },
		);
		expect(text).toBe(`  ${red("ab")}    x\n  abcd  y\n`);
	});
});

test("words wrap, a word too long stands alone", () => {
	expect(wrapWords("aa bb abcdefghijkl cc", 6)).toEqual(["aa bb", "abcdefghijkl", "cc"]);
	expect(paragraph("aa bb cc", 7, 2)).toBe("  aa bb\n  cc\n");
});

test("a number is not parted from its per cent", () => {
	expect(wrapWords("lag +20 %, thrust", 8)).toEqual(["lag", "+20 %,", "thrust"]);
});

test("significant digits without powers of ten in the usual range", () => {
	expect([0, 1.8912e-5, 0.0123456, 2.37, 12345.6, -0.5, 1e7].map((x) => digits(x))).toEqual([
		"0",
		"1.89e-5",
		"0.0123",
		"2.37",
		"12346",
		"-0.500",
		"1.00e+7",
	]);
});

test("fixed decimals, no minus zero", () => {
	expect([fixed(-0.001, 2), fixed(null, 1), fixed(undefined, 1), fixed(1.25, 1), fixed(-1.5, 1)]).toEqual([
		"0.00",
		"-",
		"-",
		"1.3",
		"-1.5",
	]);
	expect([many(0, "error"), many(1, "error"), many(2, "error")]).toEqual([
		"no errors",
		"1 error",
		"2 errors",
	]);
});

test("polynomials as people write them", () => {
	expect(polynomialText([1, 3, 3, 1], "s")).toBe("s^3 + 3 s^2 + 3 s + 1");
	expect(polynomialText([-1, 0, 0.5], "z")).toBe("-z^2 + 0.5");
	expect(polynomialText([3], "s")).toBe("3");
	expect(polynomialText([1], "s")).toBe("1");
	expect(polynomialText([0], "s")).toBe("0");
});
