import { describe, expect, it } from "vitest";
import { cornerBand } from "../../src/pictures/corner-fan.ts";
import { axis, INK, setLook } from "../../src/pictures/looks.ts";
import type { Picture, Series } from "../../src/pictures/picture.ts";
import { pictureNumbers } from "../../src/pictures/picture-numbers.ts";
import { SAMPLES } from "./samples.ts";

const picture = (series: readonly Series[], change: Partial<Picture> = {}): Picture => ({
	title: "t",
	description: "",
	note: "",
	invented: false,
	legend: [],
	panels: [
		{
			x: axis("time", "s"),
			y: axis("roll", "deg"),
			equalScales: false,
			weight: 1,
			series,
			marks: [],
			field: null,
		},
	],
	...change,
});
const table = (of: Picture, caption: string) => pictureNumbers(of).find((each) => each.caption === caption);

describe("pictureNumbers", () => {
	it.each(Object.entries(SAMPLES))("every picture has some: %s", (_, sample) => {
		const tables = pictureNumbers(sample);
		expect(tables.length).toBeGreaterThan(0);
		for (const { columns, rows } of tables)
			for (const row of rows) {
				expect(row.length).toBe(columns.length);
				expect(row.join(" ")).not.toMatch(/NaN|Infinity|undefined/);
				expect(row[0]).not.toBe("");
			}
	});

	it("says of a curve how it begins and ends, and where it is least and greatest", () => {
		const x = Float64Array.from({ length: 4001 }, (_, i) => i / 1000);
		// 5 e^(-t) sin(2 pi t): turning points where tan(2 pi t) = 2 pi, the first two at 0.22487 and 0.72487 s.
		const y = x.map((t) => 5 * Math.exp(-t) * Math.sin(2 * Math.PI * t));
		const found = table(picture([{ name: "first guess", x, y, look: setLook("B") }]), "Curves")!;
		const turn = Math.atan(2 * Math.PI) / (2 * Math.PI);
		const top = 5 * Math.exp(-turn) * Math.sin(2 * Math.PI * turn);
		expect(found.rows).toEqual([
			[
				"roll",
				"B: first guess",
				"deg",
				"0.000",
				"0.000",
				(-top * Math.exp(-0.5)).toFixed(3),
				"0.725",
				top.toFixed(3),
				"0.225",
			],
		]);
		expect(found.columns[6]!.title).toBe("at time, s");
	});

	it("leaves out points that are no numbers, and curves that have none", () => {
		const holes = { name: "A", x: [0, 1, 2, 3], y: [Number.NaN, 4, 2, Number.NaN], look: INK };
		const none = { name: "none", x: [0, 1], y: [Number.NaN, Number.NaN], look: INK };
		const rows = table(picture([holes, none, { ...none, x: [], y: [] }]), "Curves")!.rows;
		expect(rows).toEqual([["roll", "A", "deg", "4.000", "2.000", "2.000", "2.000", "4.000", "1.000"]]);
	});

	it("gives the engine's own numbers first, and the reason where there is none", () => {
		const tables = pictureNumbers(
			picture([], {
				numbers: [
					{ what: "phase margin", of: "A", value: 43.21, unit: "deg", where: "2.31 Hz" },
					{ what: "gain may fall by", of: "A", value: null, unit: "dB", where: "no such crossing" },
				],
			}),
		);
		expect(tables[0]!.rows).toEqual([
			["phase margin", "A", "43.21", "deg", "2.31 Hz"],
			["gain may fall by", "A", "-", "dB", "no such crossing"],
		]);
	});

	it("lists marks that say something, with both ends of a stretch", () => {
		const marks = table(SAMPLES["bode"]!, "Marks")!.rows;
		expect(marks.map((row) => row[0])).toEqual(["A 13.6 dB", "B 19.6 dB", "A 43 deg", "B 62 deg"]);
		expect(marks[0]!.slice(1)).toEqual(["frequency, Hz", "6.250", "6.250", "magnitude, dB", "0", "-13.60"]);
	});

	it("lists attitudes of a strip, one row each", () => {
		const strip = SAMPLES["strip"]!;
		const drawn = strip.panels.flatMap((panel) => panel.marks.filter((mark) => mark.kind === "silhouette"));
		const rows = table(strip, "Attitudes")!.rows;
		expect(rows.length).toBe(drawn.length);
		expect(rows[11]).toEqual(["3.00", "A", "roll", expect.any(String), "8.0", "0.90", "turning"]);
		expect(rows.at(-1)).toEqual(["3.00", "A", "heading", "0.0", "-", "0.90", "turning"]);
	});

	it("finds the least and the greatest of shades, and counts blank cells", () => {
		const values = [1, 2, Number.NaN, -3, 4, 0.5];
		const field = { x: [10, 20, 30], y: [1, 2], values, label: "distance", unit: "m", outline: null };
		const base = picture([]);
		const panel = { ...base.panels[0]!, x: axis("kp", ""), y: axis("ki", ""), field };
		expect(table({ ...base, panels: [panel] }, "Shades")!.rows).toEqual([
			["least distance", "-3.000", "m", "10.00", "2.000"],
			["greatest distance", "4.000", "m", "20.00", "2.000"],
			["cells with an answer, of 6", "5", "", "-", "-"],
		]);
	});

	it("tells the ends of a band of corners", () => {
		const time = [0, 1];
		const band = cornerBand({
			title: "t",
			invented: false,
			label: "roll",
			unit: "deg",
			set: { letter: "A", name: "set A" },
			timeSec: time,
			nominal: [1, 1],
			setPoint: null,
			corners: [
				{ name: "low", values: [0, -2] },
				{ name: "high", values: [3, 1] },
			],
			worst: null,
		});
		const row = table(band, "Curves")!.rows.find(([, of]) => of === "band")!;
		expect(row.slice(5)).toEqual(["-2.000", "1.000", "3.000", "0.000"]);
	});
});
