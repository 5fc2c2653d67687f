import { expect, it } from "vitest";
import { readDelimited } from "../../../src/ui/entry/delimited.ts";

it("takes tabs before semicolons before commas", () => {
	expect(readDelimited("a\tb, c\n1\t2,5").rows).toEqual([
		["a", "b, c"],
		["1", "2,5"],
	]);
	expect(readDelimited("a;b\r\n1,5;2\r\n").rows).toEqual([
		["a", "b"],
		["1,5", "2"],
	]);
	expect(readDelimited("a,b\n1,2").separator).toBe(",");
});
it("reads quotes by RFC 4180", () =>
	expect(readDelimited('"thrust, ""g""",speed\n"1\n2",3\n').rows).toEqual([
		['thrust, "g"', "speed"],
		["1\n2", "3"],
	]));
it("leaves empty lines out and empty cells in", () => {
	expect(readDelimited("\n1\t\t3\n\n\t\t\n").rows).toEqual([["1", "", "3"]]);
	expect(readDelimited("").rows).toEqual([]);
});
