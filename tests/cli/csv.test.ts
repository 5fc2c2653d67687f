import { expect, test } from "vitest";
import { csv } from "../../src/cli/csv.ts";
import { toJson } from "../../src/report/json/write.ts";

test("fields are quoted where they must be, as RFC 4180 section 2 says", () => {
	expect(
		csv(
			["a", "b,c"],
			[
				["x", 'say "hi"'],
				[1.5, null],
				[true, "two\nlines"],
			],
		),
	).toBe('a,"b,c"\nx,"say ""hi"""\n1.5,\ntrue,"two\nlines"\n');
});

test("a row of the wrong length and a number that is none are refused", () => {
	expect(() => csv(["a"], [[1, 2]])).toThrow("a row of 2 fields, expected 1");
	expect(() => csv(["a"], [[Number.NaN]])).toThrow("NaN is not a finite number");
});

test("JSON never hides a number that is none", () => {
	expect(toJson({ a: [1, null, "x"] })).toBe('{\n  "a": [\n    1,\n    null,\n    "x"\n  ]\n}\n');
	expect(() => toJson({ a: { b: [1, Number.POSITIVE_INFINITY] } })).toThrow("a.b.1 is Infinity");
	expect(() => toJson({ a: Number.NaN })).toThrow("a is NaN");
	expect(() => toJson({ a: undefined })).toThrow("a is undefined");
	expect(() => toJson({ a: new Float64Array(1) })).toThrow("a is a typed array");
});
