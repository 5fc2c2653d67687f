import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { reachSchema } from "../../src/report/json/reach.ts";
import { withValue } from "../../src/scenario/load.ts";
import { json, run } from "./run.ts";

const FILE = "scenarios/sandpiper.json";

describe("check --reach", () => {
	it("says how far and how heavy, in words, as JSON and as a picture", async () => {
		const { out, err, code, files } = await run([
			"check",
			FILE,
			"--reach",
			"--set",
			"B",
			"--poses",
			"3",
			"--plot",
			"reach.svg",
		]);
		expect(code).toBe(0);
		expect(out.replace(/\s+/g, " ")).toContain(
			"With the 300 g it is meant to carry 'boom' may go from folded to 180 deg",
		);
		expect(out).toContain("what stops it");
		expect(err).toContain("reach.svg");
		expect(files["reach.svg"]).toContain("reach and load");
		expect(files["reach.svg"]).toMatch(/invented craft/i);
	});

	it("prints what its schema promises", async () => {
		const read = reachSchema.safeParse(
			json(await run(["check", FILE, "--reach", "--set", "B", "--poses", "2", "--json"])),
		);
		expect(read.error).toBeUndefined();
		expect(read.data?.poses).toHaveLength(2);
		for (const pose of read.data!.poses) expect(pose.heaviestGrams).toBeGreaterThan(300);
	});

	it.each([
		[["check", "scenarios/wren.json", "--reach"], "scenarios/wren.json has no craft.limb"],
		[["tune", "scenarios/wren.json", "--reach"], "scenarios/wren.json has no craft.limb"],
		[["check", FILE, "--reach", "--poses", "1"], "--poses 1: expected a whole number from 2 to 73"],
		[["check", FILE, "--poses", "5"], "--poses 5: belongs to --reach"],
		[["check", FILE, "--reach", "--stalls"], "--stalls and --reach: expected one of them at a time"],
	])("bad input %j", async (args, message) => {
		const { code, err } = await run(args);
		expect(code).toBe(2);
		expect(err).toContain(message);
	});

	it.each([
		["operatingPoints.reaching.limb", ["190 deg", 0], "within the travel of 'boom', 0 deg to 180 deg"],
		["craft.limb.links[0].parts", ["mast"], "a name from craft.parts"],
		["craft.limb.gripRadius", "140 mm", "clear of every propeller"],
	])("a bad reach arm ends with 2 and says what was expected: %s", async (path, value, message) => {
		const document = withValue(JSON.parse(readFileSync(FILE, "utf8")), path, value);
		const { code, err, out } = await run(["check", "bad.json"], {
			files: { "bad.json": JSON.stringify(document) },
		});
		expect([code, out]).toEqual([2, ""]);
		expect(err.replace(/\s+/g, " ")).toContain(message);
		expect(err).toContain(path.split(".")[0]!);
	});
});
