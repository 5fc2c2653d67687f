import { describe, expect, test } from "vitest";
import { parseOver } from "../../src/cli/sweep-over.ts";
import type { SweepJson } from "../../src/report/json/sweep.ts";
import { xmlShape } from "../pictures/xml-shape.ts";
import { json, run } from "./run.ts";
import { FILES } from "./sample.ts";

const PLANE = [
	"sweep",
	"sample.json",
	"--over",
	"gainSets.A.roll.kp=0.03..3:4",
	"--over",
	"gainSets.A.roll.kd=0,0.002,0.01",
];

describe("what is swept", () => {
	test("a range holds its ends exactly and no rounding noise between", () => {
		expect(parseOver("craft.mass=1.5..2.5:3")).toEqual({
			path: "craft.mass",
			unit: "",
			values: [1.5, 2, 2.5],
		});
		expect(parseOver("a.b=0..0.3:4").values).toEqual([0, 0.1, 0.2, 0.3]);
		expect(parseOver("a.b=2..1:3").values).toEqual([2, 1.5, 1]);
	});
	test("lists and units", () => {
		expect(parseOver("craft.mass=1500..2500:2 g")).toEqual({
			path: "craft.mass",
			unit: "g",
			values: [1500, 2500],
		});
		expect(parseOver("x=-1,2.5e-3")).toEqual({ path: "x", unit: "", values: [-1, 0.0025] });
		expect(parseOver("x=10,20 deg/s").unit).toBe("deg/s");
		expect(parseOver("x=1,2 kg m^2").unit).toBe("kg m^2");
		expect(parseOver("x=5 %").unit).toBe("%");
	});
});

test("the same bytes whatever the number of workers", async () => {
	const outputs = [];
	for (const workers of ["1", "3"])
		outputs.push((await run([...PLANE, "--json", "--workers", workers], { files: FILES })).out);
	expect(new Set(outputs).size).toBe(1);
	const { cells, complete, columns } = JSON.parse(outputs[0]!) as SweepJson;
	expect(complete).toBe(true);
	expect(cells.map((cell) => cell.index)).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11]);
	expect(cells[4]!.values).toEqual([1.02, 0.002]);
	expect(cells.some((cell) => cell.why === "unstable")).toBe(true);
	for (const cell of cells) {
		expect(cell.numbers.length).toBe(columns.length);
		if (cell.numbers.includes(null)) expect(cell.why).not.toBe("");
	}
});

test("cells agree with 'margins' of a file that has the swept value", async () => {
	const swept = await run(
		["sweep", "sample.json", "--over", "gainSets.A.roll.kp=0.06,0.09", "--json", "--workers", "1"],
		{
			files: FILES,
		},
	);
	const { cells, columns } = json(swept) as SweepJson;
	const text = FILES["sample.json"].replace('"kp": 0.06', '"kp": 0.09');
	const margins = await run(["margins", "other.json", "--json"], { files: { "other.json": text } });
	const { roll } = (
		json(margins) as { axes: { roll: Record<string, { crossoverHz: number; ms: number } | null> } }
	).axes;
	const number = (name: string) => cells[1]!.numbers[columns.indexOf(name)]!;
	expect(number("crossoverHz")).toBeCloseTo(roll["rateLoop"]!.crossoverHz, 3);
	expect(number("rateLoopPeak")).toBeCloseTo(roll["rateLoop"]!.ms, 3);
});

test("a flown sweep, as text, CSV and picture; units as the file writes them", async () => {
	const line = [
		"sweep",
		"sample.json",
		"--over",
		"craft.mass=1200,1400 g",
		"--drill",
		"roll step",
		"--workers",
		"1",
	];
	const text = await run([...line, "--plot", "p.svg"], { files: FILES });
	expect(text.code).toBe(0);
	expect(text.out).toMatch(/^IAE of roll in drill 'roll step': distance from the set-point/);
	expect(text.out).toMatch(/craft.mass g +completed +overshoot %/);
	expect(() => xmlShape(text.files["p.svg"]!)).not.toThrow();
	const csv = await run([...line, "--csv"], { files: FILES });
	expect(csv.out.split("\n")[0]).toMatch(/^craft.mass \[g\],completed,/);
	expect(csv.out.trim().split("\n").length).toBe(3);
});

test("a cell that cannot be is a reason, not an end", async () => {
	const result = await run(
		["sweep", "sample.json", "--over", "craft.mass=1.2,9", "--json", "--workers", "1"],
		{ files: FILES },
	);
	const { cells } = json(result) as SweepJson;
	expect(cells[0]!.why).toBe("");
	expect(cells[1]!.why).not.toBe("");
	expect(result.code).toBe(0);
});

test("the operating point in use may be varied, pose and load alike; another one may not", async () => {
	const line = ["sweep", "scenarios/sandpiper.json", "--set", "B", "--axis", "pitch", "--point", "reaching"];
	const varied = await run([
		...line,
		"--over",
		"operatingPoints.reaching.limb.0=90,180 deg",
		"--over",
		"operatingPoints.reaching.load.mass=0,300 g",
		"--json",
	]);
	const { cells } = json(varied) as SweepJson;
	expect(cells).toHaveLength(4);
	expect(new Set(cells.map(({ numbers }) => numbers[3])).size).toBe(4);
	const other = await run([...line, "--over", "operatingPoints.nominal.inertiaFactor=1,2"]);
	expect(other.code).toBe(2);
	expect(other.err).toContain(
		"--over operatingPoints.nominal.inertiaFactor: expected a number of operating point 'reaching'",
	);
});

test.each(["drills[0].height", "tuning.even.ms"])(
	"what cells do not depend on is refused: %s",
	async (path) => {
		const { code, err, out } = await run(["sweep", "sample.json", "--over", `${path}=1,2`], { files: FILES });
		expect([code, out]).toEqual([2, ""]);
		expect(err).toContain(
			`--over ${path}: expected a number of the craft, of a gain set or of the operating point`,
		);
	},
);

test("Ctrl-C prints what is finished and ends with 130", async () => {
	const line = [
		"sweep",
		"sample.json",
		"--over",
		"craft.mass=1..1.4:400",
		"--drill",
		"side gust",
		"--workers",
		"1",
		"--json",
	];
	let pressed = false;
	const result = await run(line, {
		files: FILES,
		drawsOver: true,
		watch: (err, interrupt) => {
			if (pressed || !/\] [1-9]\d* of 400/.test(err)) return;
			pressed = true;
			interrupt();
		},
	});
	expect(result.code).toBe(130);
	const { cells, complete } = json(result) as SweepJson;
	expect(complete).toBe(false);
	expect(cells.length).toBeGreaterThan(0);
	expect(cells.length).toBeLessThan(400);
	expect(result.err).toContain("\r\x1b[K");
});
