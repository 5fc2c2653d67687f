import { describe, expect, test } from "vitest";
import type { CompareRow } from "../../src/report/compare-rows.ts";
import { tradeSentence } from "../../src/report/compare-trade.ts";

const row = (what: string, a: number | null, b: number | null): CompareRow => ({
	drill: "gust",
	what,
	unit: "",
	better: "less",
	cells: [a, b].map((value, i) => ({
		set: "AB"[i]!,
		value,
		difference: null,
		best: false,
		fails: false,
		why: {},
	})),
	why: {},
});
const trade = (...rows: CompareRow[]) => tradeSentence(rows, "B", "A", []);

describe("the sentence on a set", () => {
	test("what it gains and what it costs", () => {
		expect(
			trade(row("roll IAE", 2, 1), row("motor activity", 1, 1.3), row("least phase margin", 60, 48.5)),
		).toBe(
			"Against A, B stays 50 % closer to the set-point; but works the motors 30 % harder, keeps 11.5 deg less phase margin.",
		);
	});
	test("ratios are averaged over drills by their logarithm", () => {
		expect(trade(row("roll IAE", 1, 2), row("pitch IAE", 1, 0.5))).toBe(
			"B flies like A: no difference worth a word.",
		);
	});
	test("overshoot in points, the largest change of all drills", () => {
		expect(trade(row("roll overshoot", 5, 12), row("pitch overshoot", 5, 4))).toBe(
			"Against A, B overshoots 7.0 points more in 'gust'.",
		);
	});
	test("numbers that one set does not have are left out", () => {
		expect(trade(row("roll IAE", null, 1))).toBe("B flies like A: no difference worth a word.");
	});
	test("failing comes first", () => {
		expect(tradeSentence([], "B", "A", ["flipped over after 1 s"])).toBe("B fails: flipped over after 1 s.");
		expect(tradeSentence([], "A", "A", [])).toBe("A is the base that the others are compared with.");
	});
});
