import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { AGAIN } from "../../src/analysis/first-minute-again.ts";
import { firstMinuteText } from "../../src/cli/check-first-minute.ts";
import { paint } from "../../src/cli/text.ts";
import { firstMinuteSchema, stallsSchema } from "../../src/report/json/first-minute.ts";
import { loadScenario } from "../../src/scenario/load.ts";
import { json, run } from "./run.ts";

const FILE = "scenarios/wren.json";

const loaded = loadScenario(readFileSync(FILE, "utf8"));
if (!loaded.ok) throw new Error(loaded.errors[0]?.message);
const gainSet = loaded.scenario.gainSets[0]!;

describe("check --first-minute", () => {
	test("tells ten ways in order, each flown with numbers, each with a bench sight; its text has no line too wide", async () => {
		const answer = await run(["check", FILE, "--first-minute", "--json"]);
		expect(answer.code).toBe(0);
		const read = firstMinuteSchema.safeParse(json(answer));
		expect(read.success ? [] : read.error.issues).toEqual([]);
		const { ways, flown, survived } = read.data!;
		const again = Object.values(AGAIN).map((line) => line(gainSet));
		for (const way of ways) {
			const line = way.again.replace(FILE, "FILE");
			if (/^fly FILE --wrong [a-z-]+( --motors [\d,]+)?$/.test(line)) expect(line).toContain(way.way);
			else expect(again).toContain(line);
		}
		expect(ways).toHaveLength(10);
		expect(flown).toBeGreaterThanOrEqual(ways.length + survived.length);
		for (const { first, bench } of ways) {
			expect(first).toMatch(/\d/);
			expect(bench).toMatch(
				/^(Propellers off|Battery unplugged|Measure|Lift|Wait|Run|Roll|Pitch|Tilt|Hold|Keep|With)/,
			);
		}
		for (let i = 1; i < ways.length; i++) {
			expect(ways[i]!.often).toBeGreaterThanOrEqual(ways[i - 1]!.often);
			if (ways[i]!.often === ways[i - 1]!.often)
				expect(ways[i]!.lostSec!).toBeGreaterThanOrEqual(ways[i - 1]!.lostSec!);
		}
		const text = firstMinuteText(read.data!, paint(false), 100);
		expect(text.match(/^\d+\. /gm)).toHaveLength(10);
		expect(text.match(/^ {2}on the bench/gm)).toHaveLength(10);
		expect(text).toContain("integral running on the ground");
		expect(text).toContain("Propellers off for every bench check.");
		for (const line of text.split("\n")) expect(line.length, line).toBeLessThanOrEqual(100);
		expect(text).not.toMatch(/NaN|Infinity|undefined|null|[ \t]+$/m);
	});
	test("one report at a time", async () => {
		const { code, err } = await run(["check", FILE, "--first-minute", "--stalls"]);
		expect(code).toBe(2);
		expect(err).toContain("--first-minute and --stalls: expected one of them at a time");
	});
});

describe("check --stalls", () => {
	test("gives each axis its milliseconds or the reason why not", async () => {
		const { out, code } = await run(["check", FILE, "--stalls"]);
		expect(code).toBe(0);
		expect(out).toMatch(/^ {2}roll +\d{3} {2}one millisecond longer: leans 60 deg/m);
		expect(out).toMatch(/^ {2}yaw +- {2}every stall up to 2000 ms is survived/m);
		const read = stallsSchema.safeParse(json(await run(["check", FILE, "--stalls", "--json"])));
		expect(read.success).toBe(true);
	});
});
