import { describe, expect, test } from "vitest";
import { SCHEMAS, type SchemaName } from "../../src/report/json/schemas.ts";
import { json, type Run, run } from "./run.ts";
import { FILES, sample } from "./sample.ts";

/** One run of every verb, and what it must exit with. */
const RUNS: readonly (readonly [SchemaName, readonly string[], number])[] = [
	["check", ["check", "sample.json"], 0],
	["check", ["check", "too-heavy.json"], 1],
	["check", ["check", "typo.json"], 2],
	["tune", ["tune", "sample.json", "--no-fly", "--no-alternatives"], 0],
	["fly", ["fly", "sample.json"], 0],
	["fly", ["fly", "sample.json", "--drill", "side gust", "--set", "B", "--seed", "9"], 0],
	["fly", ["fly", "too-heavy.json"], 1],
	["fly", ["fly", "unstable.json"], 1],
	["fly", ["fly", "scenarios/wren.json", "--drill", "roll pivot"], 0],
	["fly", ["fly", "scenarios/sandpiper.json", "--drill", "roll pivot", "--beside-air"], 0],
	["fly", ["fly", "scenarios/sandpiper.json", "--drill", "string rig", "--beside-air"], 0],
	["margins", ["margins", "sample.json"], 0],
	["margins", ["margins", "unstable.json"], 1],
	["sweep", ["sweep", "sample.json", "--over", "craft.mass=1,1.2", "--workers", "1"], 0],
	["compare", ["compare", "sample.json", "--drill", "side gust"], 0],
	["compare", ["compare", "unstable.json", "--drill", "roll step"], 1],
	["loop", ["loop", "--num", "3", "--den", "1,3,3,1"], 0],
	["loop", ["loop", "--num", "100", "--den", "0.02,0.3,1,0"], 1],
	["loop", ["loop", "--num", "1", "--den", "1,1"], 0],
	["loop", ["loop", "--num", "-0.5,1", "--den", "1,1"], 0],
	["loop", ["loop", "--num", "1", "--den", "1,-1", "--sample-time", "0.01", "--discrete"], 0],
];

/** Those that take neither search nor threads, of files that can be read. */
const QUICK = RUNS.filter(([name, argv]) => name !== "tune" && name !== "sweep" && argv[1] !== "typo.json");

/** Paths of nulls that have no reason beside them, and of numbers that are none. */
function unexplained(value: unknown, path = ""): string[] {
	if (typeof value !== "object" || value === null) return [];
	const why = (value as { why?: unknown }).why;
	return Object.entries(value).flatMap(([key, each]) => {
		const here = path ? `${path}.${key}` : key;
		const known = typeof why === "object" && why !== null ? (why as Record<string, string>)[key] : why;
		if (each === null) return Array.isArray(value) || known ? [] : [here];
		return unexplained(each, here);
	});
}

describe("people", () => {
	test("how units were read is said by check alone, an odd value by every verb", async () => {
		const grams = sample((d) => {
			d.craft.motors.maxThrust = "850 g";
		});
		const check = await run(["check", "grams.json"], { files: { "grams.json": grams } });
		expect(check.out).toMatch(/craft\.motors\.maxThrust +'850 g' is read as the weight of that mass/);
		const fly = await run(["fly", "grams.json"], { files: { "grams.json": grams } });
		expect(fly.err).toBe("");
		const heavy = await run(["fly", "too-heavy.json"], { files: FILES });
		expect(heavy.err).toMatch(/^warning: craft/);
	});

	test("a drill without a description has no colon after its name", async () => {
		const bare = sample((d) => {
			delete (d.drills[0] as { about?: string }).about;
		});
		const { out } = await run(["fly", "bare.json"], { files: { "bare.json": bare } });
		expect(out).toMatch(/^Drill 'roll step'\n/);
	});

	test("a hyperperiod is said in whole microseconds", async () => {
		const odd = sample(({ craft: { timing } }) => {
			for (const clock of [timing.gyro, timing.frame]) clock.period = "1667 us";
			timing.loop = "1667 us";
		});
		const result = await run(["margins", "odd.json", "--json"], { files: { "odd.json": odd } });
		// 1000 times 0.001667 is 1.6669999999999998.
		expect(json(result)).toMatchObject({ periodic: { hyperperiodMs: 1.667 } });
	});

	test("no gains are printed, saved or called feasible for a craft that cannot hover", async () => {
		const line = ["tune", "too-heavy.json", "--no-fly", "--no-alternatives"];
		const text = await run([...line, "--save-as", "new.json"], { files: FILES });
		expect(text.code).toBe(1);
		expect(text.out).toMatch(/^stop {2}Not fit to hover\. This craft cannot hover here: full throttle lifts/);
		expect(text.out).not.toMatch(/\bkp\b/);
		expect(text.err).toMatch(/nothing saved/);
		expect(text.files).toEqual({});
		const machine = json(await run([...line, "--json"], { files: FILES }));
		expect(machine).toMatchObject({ feasible: false, hover: { fit: false } });
	});

	test("mass properties say where they come from, part by part, and the parts add up", async () => {
		const { massProperties } = json(await run(["check", "scenarios/sandpiper.json", "--json"])) as {
			massProperties: { massKg: number; origin: { mass: string; shares: { massKg: number }[] } };
		};
		expect(massProperties.origin.mass).toBe("parts");
		const sum = massProperties.origin.shares.reduce((all, { massKg }) => all + massKg, 0);
		expect(sum).toBeCloseTo(massProperties.massKg, 12);
		const text = await run(["check", "sample.json"], { files: FILES });
		expect(text.out).toMatch(/mass from the file, centre of mass assumed, inertia by a rule/);
	});
});

describe("JSON", () => {
	const seen = new Map<string, Run>();
	test.each(RUNS)("%s %j: schema, reasons, exit code", async (name, argv, code) => {
		const result = await run([...argv, "--json"], { files: FILES });
		seen.set(argv.join(" "), result);
		const value = json(result);
		const read = SCHEMAS[name].safeParse(value);
		expect(read.success ? [] : read.error.issues).toEqual([]);
		expect(unexplained(value)).toEqual([]);
		expect(result.out).not.toMatch(/NaN|Infinity/);
		expect(result.code).toBe(code);
	});

	test.each(QUICK)("%s %j: the same bytes again", async (_name, argv) => {
		const again = await run([...argv, "--json"], { files: FILES });
		expect(again.out).toBe(seen.get(argv.join(" "))!.out);
	});
});

describe("CSV", () => {
	test.each(QUICK)("%s %j: a header, then rows of as many fields", async (_name, argv, code) => {
		const result = await run([...argv, "--csv"], { files: FILES });
		const rows = parseCsv(result.out);
		expect(rows.length).toBeGreaterThan(argv[0] === "loop" ? 0 : 1);
		for (const row of rows) expect(row.length).toBe(rows[0]!.length);
		expect(new Set(rows[0]).size).toBe(rows[0]!.length);
		expect(result.code).toBe(code);
	});
});

describe("text", () => {
	test.each(QUICK)(
		"%s %j: no colour codes unless the terminal takes them, nothing wider than it must be",
		async (_name, argv, code) => {
			const plain = await run(argv, { files: FILES });
			expect(plain.out).not.toContain("\u001b");
			expect(plain.out).not.toMatch(/NaN|Infinity|undefined|null|\[object/);
			expect(plain.out).not.toMatch(/[ \t]+$/m);
			expect(plain.out.endsWith("\n")).toBe(true);
			expect(plain.code).toBe(code);
			for (const line of plain.out.split("\n")) expect(line.length, line).toBeLessThanOrEqual(100);
			if (argv[0] === "compare") return;
			const coloured = await run(argv, { files: FILES, colour: true });
			expect(coloured.out).toContain("\u001b[");
			// biome-ignore lint/suspicious/noControlCharactersInRegex: colour codes start with one
			expect(coloured.out.replace(/\u001b\[[0-9;]*m/g, "")).toBe(plain.out);
		},
	);
});

/** RFC 4180, line feeds. */
function parseCsv(text: string): string[][] {
	const rows: string[][] = [];
	let row: string[] = [];
	for (const match of text.matchAll(/(?:"((?:[^"]|"")*)"|([^",\n]*))([,\n])/g)) {
		row.push(match[1]?.replaceAll('""', '"') ?? match[2] ?? "");
		if (match[3] === "\n") {
			rows.push(row);
			row = [];
		}
	}
	expect(row).toEqual([]);
	return rows;
}
