import { describe, expect, test } from "vitest";
import { xmlShape } from "../pictures/xml-shape.ts";
import { run } from "./run.ts";
import { FILES } from "./sample.ts";

describe("pictures are well-formed and marked as invented", () => {
	test.each([
		["fly", "step"],
		["fly", "traces"],
		["margins", "bode"],
		["margins", "nyquist"],
		["compare", "step"],
	])("%s --plot-kind %s", async (verb, kind) => {
		const extra = verb === "compare" ? ["--drill", "roll step"] : [];
		const result = await run([verb, "sample.json", "--plot", "p.svg", "--plot-kind", kind, ...extra], {
			files: FILES,
		});
		expect(result.code).toBe(0);
		const svg = result.files["p.svg"]!;
		expect(xmlShape(svg).get("path")).toBeGreaterThan(0);
		expect(svg).toContain("Invented craft");
		expect(svg).not.toMatch(/NaN|Infinity|undefined/);
	});
});

test("--out writes every signal with its unit, one row per record", async () => {
	const result = await run(["fly", "sample.json", "--out", "t.csv"], { files: FILES });
	const lines = result.files["t.csv"]!.trimEnd().split("\n");
	const header = lines[0]!.split(",");
	expect(header.slice(0, 4)).toEqual(["time [s]", "rollSetPoint [deg]", "pitchSetPoint [deg]", "roll [deg]"]);
	expect(header).toContain("rollRate [deg/s]");
	expect(header).toContain("rotorSpeed3 [rad/s]");
	for (const line of lines) expect(line.split(",").length).toBe(header.length);
	const last = lines.at(-1)!.split(",").map(Number);
	expect(last[0]).toBeCloseTo(1.5, 2);
	expect(last[1]).toBeCloseTo(10, 6);
	expect(last[3]).toBeGreaterThan(8);
	expect(last[3]).toBeLessThan(12);
	expect(last.every(Number.isFinite)).toBe(true);
});
