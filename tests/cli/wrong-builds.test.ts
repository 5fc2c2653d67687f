import { describe, expect, test } from "vitest";
import { wrongBuildsSchema } from "../../src/report/json/wrong-builds.ts";
import { json, run } from "./run.ts";

const FILE = "scenarios/sandpiper.json";

describe("check --wrong-builds", () => {
	test("prints a block for every mistake, with cautions, no line too wide", async () => {
		const { code, out } = await run(["check", FILE, "--wrong-builds"]);
		expect(code).toBe(0);
		expect(out).toMatch(/^gyro-sign-roll {2}gyro sign wrong, roll\n {2}first 300 ms {2}Falls /m);
		expect(out.match(/^ {2}on the bench/gm)).toHaveLength(out.match(/^ {2}told apart/gm)!.length);
		expect(out).toContain("Propellers off for every bench check.");
		for (const line of out.split("\n")) expect(line.length, line).toBeLessThanOrEqual(100);
		expect(out).not.toMatch(/NaN|Infinity|undefined|null|[ \t]+$/m);
	});

	test("--json keeps its schema and gives every null a reason; --csv has a row for each", async () => {
		const result = json(await run(["check", FILE, "--wrong-builds", "--json"]));
		const read = wrongBuildsSchema.safeParse(result);
		expect(read.success ? [] : read.error.issues).toEqual([]);
		const { builds } = read.data!;
		for (const { fall } of builds)
			for (const [key, value] of Object.entries(fall))
				if (value === null) expect(fall.why[key]).toMatch(/^it /);
		const table = await run(["check", FILE, "--wrong-builds", "--csv"]);
		expect(table.out.trimEnd().split("\n")).toHaveLength(builds.length + 1);
	});
});

describe("fly --wrong", () => {
	test("says what was built wrong, how it falls, and fails", async () => {
		const { code, out } = await run(["fly", FILE, "--wrong", "motors-swapped", "--motors", "1,2"]);
		expect(code).toBe(1);
		expect(out).toMatch(
			/^Wrong build: two motors swapped, motors 1 and 2\.\nFalls \S+, 40 deg in \d\.\d\d s/,
		);
		expect(out).toContain("flipped over after");
		expect(out).toContain("Propellers off");
	});

	test("takes the motors with which it falls fastest where none are named", async () => {
		const result = json(await run(["fly", FILE, "--wrong", "propeller-wrong-hand", "--json"])) as {
			wrong: { kind: string; motors: number[]; chosen: string };
		};
		expect(result.wrong.kind).toBe("propeller-wrong-hand");
		expect(result.wrong.motors).toHaveLength(1);
		expect(result.wrong.chosen).toBe("of 4 motors it falls fastest with this one");
	});

	test("without it nothing is wrong", async () => {
		const result = json(await run(["fly", FILE, "--json"])) as { wrong: { kind: string } };
		expect(result.wrong.kind).toBe("");
	});

	test.each([
		[["--wrong", "motor-swaped"], "no such mistake", "Did you mean 'motors-swapped'?"],
		[["--wrong", "motors-swapped", "--motors", "1,9"], "the craft has no motor 9", "It has 1, 2, 3, 4."],
		[["--wrong", "motors-swapped", "--motors", "1"], "concerns 2 different motors", "Such as --motors"],
		[["--wrong", "motors-swapped", "--motors", "1,1"], "concerns 2 different motors", "Such as --motors"],
		[["--wrong", "gyro-sign-yaw", "--motors", "1"], "concerns no motor", "Leave --motors out."],
		[["--motors", "1"], "expected --wrong KIND with it", "There is: motors-swapped"],
	])("%j: exit 2, what is wrong, a way out", async (argv, message, hint) => {
		const { code, out, err } = await run(["fly", FILE, ...argv]);
		expect(code).toBe(2);
		expect(out).toBe("");
		expect(err).toContain(message);
		expect(err).toContain(hint);
	});
});
