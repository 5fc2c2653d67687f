import { describe, expect, it } from "vitest";
import { bode } from "../../src/pictures/bode.ts";
import { gainPlane } from "../../src/pictures/gain-plane.ts";
import { SAMPLES } from "./samples.ts";

describe("descriptions", () => {
	it("every one has a sentence, units or a pure number on each axis, and a legend", () => {
		for (const picture of Object.values(SAMPLES)) {
			expect(picture.description).toMatch(/\.$/);
			expect(picture.legend.length).toBeGreaterThan(0);
			for (const panel of picture.panels) {
				expect(panel.x.label).not.toBe("");
				expect(panel.y.label).not.toBe("");
			}
			for (const panel of picture.panels) for (const s of panel.series) expect(s.x.length).toBe(s.y.length);
		}
	});
	it("is plain data: a copy through JSON keeps every key", () => {
		const plane = SAMPLES["plane"]!;
		expect(Object.keys(JSON.parse(JSON.stringify(plane)))).toEqual(Object.keys(plane));
	});
	it("step overlay: one line a set and what was asked for, dotted and without a letter", () => {
		const series = SAMPLES["step"]!.panels[0]!.series;
		expect(series.map((s) => s.look.letter).sort()).toEqual(["", "A", "B", "C"]);
		expect(series.find((s) => s.look.letter === "")!.look.dash).toBe("dotted");
	});
	it("Bode: margins run from the curve to 0 dB and to -180 degrees, and none is drawn where none exists", () => {
		const curve = { letter: "A", name: "a", hz: [1, 10], magnitudeDb: [10, -30], phaseDeg: [-100, -260] };
		const picture = bode({
			title: "t",
			invented: false,
			curves: [{ ...curve, phaseMargin: { hz: Math.sqrt(10), deg: 0 }, gainMargin: { hz: 4, db: 12 } }],
		});
		const [gain, phase] = picture.panels.map((p) => p.marks.filter((m) => m.kind === "span"));
		expect(gain![0]).toMatchObject({ from: [4, 0], to: [4, -12], text: "A 12.0 dB" });
		const span = phase![0] as { from: readonly number[]; to: readonly number[] };
		expect(span.from[1]).toBeCloseTo(-180, 9);
		expect(span.to[1]).toBe(-180);
		const none = bode({
			title: "t",
			invented: false,
			curves: [{ ...curve, phaseMargin: null, gainMargin: null }],
		});
		expect(none.panels.flatMap((p) => p.marks).filter((m) => m.kind === "span")).toEqual([]);
		expect(none.description).toContain("no gain crossing");
	});
	it("Nyquist: -1 and a circle of radius 1/Ms about it, one length on both axes", () => {
		const panel = SAMPLES["nyquist"]!.panels[0]!;
		expect(panel.equalScales).toBe(true);
		const circle = panel.marks.find((m) => m.kind === "region")!;
		if (circle.kind !== "region") throw new Error("no circle");
		for (let i = 0; i < circle.x.length; i++)
			expect(Math.hypot(circle.x[i]! + 1, circle.y[i]!)).toBeCloseTo(1 / 1.6, 12);
		expect(panel.marks).toContainEqual(expect.objectContaining({ kind: "point", x: -1, y: 0 }));
	});
	it("corner fan: all corners faint, the worst named", () => {
		const picture = SAMPLES["fan"]!;
		expect(picture.panels[0]!.series.filter((s) => s.look.weight === "faint")).toHaveLength(12);
		expect(picture.description).toContain("the worst is corner 1");
	});
	it("gain plane: refuses a matrix that does not fit its axes", () =>
		expect(() =>
			gainPlane({
				title: "t",
				invented: false,
				x: { label: "kp", unit: "", scale: "linear", values: [1, 2] },
				y: { label: "ki", unit: "", scale: "linear", values: [1, 2] },
				values: [1, 2, 3],
				label: "d",
				unit: "",
				outline: null,
				sets: [],
			}),
		).toThrow(/3 entries, expected 4/));
	it("traces: one time range and the event through every panel, said once", () => {
		const { panels } = SAMPLES["traces"]!;
		for (const panel of panels) expect(panel.x.range).toEqual([0, 3]);
		const events = panels.map((p) => p.marks.find((m) => m.kind === "vertical")!);
		expect(events.map((m) => (m.kind === "vertical" ? m.text : "?"))).toEqual(["gust begins", "", ""]);
	});
});
