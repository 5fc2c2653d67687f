import { describe, expect, it } from "vitest";
import type { CraftReport, HoverReport } from "../../src/analysis/craft-report-types.ts";
import type { CompareRow } from "../../src/report/compare-rows.ts";
import { hoverRows, type LoadTrade, loadSentence } from "../../src/report/load-trade.ts";

const hover = (stick: number, thrustToWeight: number, powerW: number): CraftReport =>
	({
		hover: { stick, thrustToWeight, powerW } as HoverReport,
		whyNoHover: "",
	}) as CraftReport;

const row = (what: string, unit: string, from: number | null, to: number | null): CompareRow => ({
	drill: "a drill",
	what,
	unit,
	better: "less",
	cells: [
		{ set: "bare", value: from, difference: 0, best: false, fails: false, why: {} },
		{
			set: "laden",
			value: to,
			difference: from === null || to === null ? null : to - from,
			best: false,
			fails: false,
			why: {},
		},
	],
	why: {},
});

const trade = (change: Partial<LoadTrade> = {}): LoadTrade => ({
	set: "set B",
	load: "300 g",
	rows: [],
	without: { name: "bare", report: hover(0.52, 2.3, 180), fails: [] },
	loaded: { name: "laden", report: hover(0.61, 1.99, 240), fails: [] },
	...change,
});

describe("what a load does, in a sentence", () => {
	it("always says stick and thrust", () => {
		expect(loadSentence(trade())).toBe(
			"With 300 g set B hovers at 61 % stick instead of 52 % and has 1.99 times its weight in thrust instead of 2.30.",
		);
	});
	it("says margin, following and overshoot where they change enough to matter", () => {
		const rows = [
			row("least phase margin", "deg", 46.4, 44.1),
			row("roll IAE", "deg s", 2, 2.24),
			row("roll overshoot", "%", 8, 12),
		];
		expect(loadSentence(trade({ rows }))).toBe(
			"With 300 g set B hovers at 61 % stick instead of 52 %, has 1.99 times its weight in thrust instead of 2.30, keeps 2.3 deg less phase margin (44.1 against 46.4), strays 12 % further from the set-point and overshoots 4.0 points more.",
		);
		const better = [
			row("least phase margin", "deg", 44.1, 46.4),
			row("roll IAE", "deg s", 2.24, 2),
			row("roll overshoot", "%", 12, 8),
		];
		const said = loadSentence(trade({ rows: better }));
		expect(said).toContain("2.3 deg more phase margin");
		expect(said).toContain("stays 11 % closer");
		expect(said).toContain("overshoots 4.0 points less.");
	});
	it("leaves out what hardly changes or was not reached", () => {
		const rows = [
			row("least phase margin", "deg", 46.4, 46.2),
			row("roll IAE", "deg s", 2, 2.01),
			row("roll overshoot", "%", null, 3),
		];
		expect(loadSentence(trade({ rows }))).toBe(loadSentence(trade()));
	});
	it("says first what fails: no hover, a set that fails anyway, a set that fails with the load", () => {
		const { without, loaded } = trade();
		const none = { ...loaded, report: { hover: null, whyNoHover: "it lacks 3.1 N" } as CraftReport };
		expect(loadSentence(trade({ loaded: none }))).toBe("With 300 g this craft cannot hover: it lacks 3.1 N.");
		expect(loadSentence(trade({ without: { ...without, fails: ["it flips"] } }))).toBe(
			"set B fails already without load: it flips.",
		);
		expect(loadSentence(trade({ loaded: { ...loaded, fails: ["it flips at 2.1 s"] } }))).toBe(
			"set B holds without load but fails with 300 g: it flips at 2.1 s.",
		);
	});
});

describe("rows of hovering", () => {
	it("take differences from the lighter one", () => {
		const [stick, thrust, power] = hoverRows(trade());
		expect(stick!.cells.map(({ value }) => value)).toEqual([52, 61]);
		expect(thrust!.cells[1]!.difference).toBeCloseTo(-0.31, 12);
		expect(power!.cells[1]!.difference).toBe(60);
	});
	it("mark the one that cannot hover", () => {
		const { loaded } = trade();
		const none = { ...loaded, report: { hover: null, whyNoHover: "too heavy" } as CraftReport };
		expect(hoverRows(trade({ loaded: none }))[0]!.cells[1]).toMatchObject({
			value: null,
			fails: true,
			why: { value: "too heavy" },
		});
	});
});
