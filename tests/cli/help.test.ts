import { describe, expect, test } from "vitest";
import { VERBS } from "../../src/cli/verbs.ts";
import { run } from "./run.ts";

test("--help names every verb in the order of the job, exit 0, on stdout", async () => {
	const { code, out, err } = await run(["--help"]);
	expect(code).toBe(0);
	expect(err).toBe("");
	const listed = [...out.matchAll(/^ {2}([a-z]+)(?: \[options\]| {2,}The main job)/gm)].map(
		(match) => match[1],
	);
	expect(listed).toEqual(Object.keys(VERBS));
	expect(out).toContain("A simulation is not evidence that a craft is safe.");
});

describe("every verb's --help", () => {
	test.each(Object.keys(VERBS))(
		"%s: what it is for, every option in words, examples that name it",
		async (verb) => {
			const { code, out } = await run([verb, "--help"]);
			expect(code).toBe(0);
			expect(out).toContain(`Usage: levelhead ${verb}`);
			expect(out).toMatch(new RegExp(`Examples:\\n {2}levelhead ${verb}`));
			for (const [, option] of out.matchAll(/^ {2}(-\S.*)$/gm)) expect(option).toMatch(/\S {2,}\S|>$|\]$/);
			expect((await run(["help", verb])).out).toBe(out);
		},
	);
	test.each(Object.keys(VERBS).filter((verb) => verb !== "demo"))(
		"%s offers --json and --csv",
		async (verb) => {
			const { out } = await run([verb, "--help"]);
			expect(out).toContain("--json ");
			expect(out).toContain("--csv ");
		},
	);
});

test("--version", async () => {
	expect(await run(["--version"])).toMatchObject({ code: 0, out: "0.1.0\n", err: "" });
});
