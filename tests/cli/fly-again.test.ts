import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { AGAIN, quoted, wrongAgain } from "../../src/analysis/first-minute-again.ts";
import { WRONG_KINDS } from "../../src/analysis/wrong-kinds.ts";
import { flySchema } from "../../src/report/json/fly.ts";
import { loadScenario } from "../../src/scenario/load.ts";
import { json, run } from "./run.ts";

const FILE = "scenarios/sandpiper.json";
const loaded = loadScenario(readFileSync(FILE, "utf8"));
if (!loaded.ok) throw new Error(loaded.errors[0]?.message);
const { craft, gainSets } = loaded.scenario;
const gainSet = gainSets[0]!;

/** Words as a shell would split them: single quotes only, as these lines have. */
const words = (line: string): string[] =>
	[...line.matchAll(/(?:'[^']*'|[^\s'])+/g)].map(([word]) => word.replaceAll("'", ""));

const numbered = (rotors: readonly number[]): number[] => rotors.map((i) => craft.rotors[i]!.motorNumber);

describe("every command that tells how to see a way again", () => {
	test.each(Object.entries(AGAIN))("%s", async (_, line) => {
		const { code, err } = await run(words(line(gainSet).replace("FILE", FILE)));
		expect(err).toBe("");
		// Without a mistake in building all of them end well on this craft, or are no flight at all.
		expect(code).toBe(0);
	});

	test.each(WRONG_KINDS.map((kind) => [kind.kind, kind] as const))("--wrong %s", async (_, kind) => {
		const motors = kind.motors === 0 ? [] : numbered(kind.waysOn(craft)[0]!);
		const line = wrongAgain(kind.kind, motors).replace("FILE", FILE);
		const answer = await run([...words(line), "--json"]);
		expect(answer.err).toBe("");
		const found = flySchema.parse(json(answer));
		expect(found.wrong.kind).toBe(kind.kind);
		expect(found.wrong.motors).toEqual(motors.toSorted((a, b) => a - b));
		// It ran: 1 says that the flight ended badly, which is what such a command is there to show.
		expect(answer.code).toBe(found.fails.length > 0 ? 1 : 0);
	});

	test("names are one word to a shell, whatever stands in them", () => {
		expect(quoted("gainSets.A.integralOnGround=runs")).toBe("gainSets.A.integralOnGround=runs");
		expect(quoted("my craft.json")).toBe("'my craft.json'");
		expect(quoted("it's")).toBe("'it'\\''s'");
	});
});

describe("fly --with", () => {
	const WAIT = ["fly", FILE, "--drill", "lift-off after a wait on a slope", "--set", "A", "--json"];
	const lean = async (...more: string[]) => {
		const found = flySchema.parse(json(await run([...WAIT, ...more])));
		return { peak: (found.metrics.roll as { peakDeviationDeg: number }).peakDeviationDeg, found };
	};

	test("sets one thing for this flight, which its JSON, text and picture say", async () => {
		const asFile = await lean();
		const running = await lean("--with", "gainSets.A.integralOnGround=runs");
		expect(asFile.found.with).toEqual([]);
		expect(running.found.with).toEqual([{ path: "gainSets.A.integralOnGround", value: "runs" }]);
		expect(running.peak).not.toBe(asFile.peak);
		const { out, files } = await run([
			...WAIT.slice(0, -1),
			"--with",
			"craft.battery.electronicsPower=5 W",
			"--plot",
			"with.svg",
		]);
		expect(out).toContain("For this flight only: craft.battery.electronicsPower = 5 W.");
		expect(files["with.svg"]).toContain("craft.battery.electronicsPower=5 W");
	});

	test("flies exactly what a file with that value flies; later ones win; empty takes out", async () => {
		const document = JSON.parse(readFileSync(FILE, "utf8"));
		document.gainSets[0].roll.kp *= 1.2;
		const edited = JSON.stringify(document);
		const kp = String(document.gainSets[0].roll.kp);
		const fly = ["--set", "A", "--drill", "roll step", "--json"];
		const inFile = flySchema.parse(
			json(await run(["fly", "edited.json", ...fly], { files: { "edited.json": edited } })),
		);
		const given = flySchema.parse(
			json(
				await run([
					...["fly", FILE, ...fly],
					...["--with", "gainSets.A.roll.kp=0.001", "--with", `gainSets.A.roll.kp=${kp}`],
					...["--with", "gainSets.A.liftOffFor="],
				]),
			),
		);
		expect(given.metrics).toEqual(inFile.metrics);
		expect(given.actuators).toEqual(inFile.actuators);
		expect(given.with.map(({ value }) => value)).toEqual(["0.001", kp, ""]);
	});

	test.each([
		["gainSets.A.nothing=3", "gainSets[0].nothing: 3, expected one of the keys"],
		["gainSets.Q.roll.kp=3", "path 'gainSets.Q': no such entry"],
		["craft.mass=heavy", 'craft.mass: "heavy", expected a mass'],
		["gainSets.A.roll.kp=-3", "gainSets[0].roll.kp: -3, expected a number of at least 0"],
		["gainSets.A.name=Z", "--set 'A': the scenario has no such gain set"],
		["craft.mass", "expected PATH=VALUE"],
		["drills.roll step.height=3", "expected something of the craft or of a gain set"],
	])("%s is bad input that says why", async (given, said) => {
		const { code, out, err } = await run(["fly", FILE, "--set", "A", "--with", given]);
		expect(code).toBe(2);
		expect(out).toBe("");
		expect(err).toContain(said);
	});
});
