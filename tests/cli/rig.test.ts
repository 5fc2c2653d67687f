import { expect, test } from "vitest";
import { flySchema } from "../../src/report/json/fly.ts";
import { json, run } from "./run.ts";

test("a rig drill says why it misleads, and beside the air both in columns with their numbers", async () => {
	const line = ["fly", "scenarios/sandpiper.json", "--drill", "roll pivot"];
	const alone = await run(line);
	expect(alone.code).toBe(0);
	expect(alone.out).toMatch(/On a pivot rig: gains judged here mislead, because\n {2}- on this rig/);
	expect(alone.out).toContain("as if its inertia were 1.4 times larger");
	expect(alone.out).toContain("--beside-air puts the same drill in the air beside it.");
	expect(alone.out).toContain("Gains judged on a pivot or string rig mislead");
	const beside = await run([...line, "--beside-air"]);
	expect(beside.out).toMatch(/roll +on the rig +in the air/);
	expect(beside.out).toMatch(/rate loop, gain margin dB +\d+\.\d +\d+\.\d/);
	for (const text of beside.out.split("\n")) expect(text.length, text).toBeLessThanOrEqual(100);
	expect(beside.out).not.toMatch(/NaN|Infinity|undefined|null|[ \t]+$/m);
});

test("--beside-air: the rig's numbers and the air's, the same as a flight without the rig", async () => {
	const answer = json(
		await run(["fly", "scenarios/wren.json", "--drill", "roll pivot", "--beside-air", "--json"]),
	);
	const { rigs } = flySchema.parse(answer);
	const [rig] = rigs;
	expect(rig!.inertiaFactor).toBeGreaterThan(1.1);
	expect(rig!.air!.status).toBe("completed");
	// The roll step of the same file is the same flight but for its length and drill name.
	const free = flySchema.parse(
		json(await run(["fly", "scenarios/wren.json", "--drill", "roll step", "--json"])),
	);
	expect(rig!.air!.metrics.riseTimeMs).toBeCloseTo(free.metrics.roll.riseTimeMs!, 9);
	expect(free.rigs).toEqual([]);
});

test("--beside-air wants a drill with a rig and names them", async () => {
	const { code, err } = await run(["fly", "scenarios/wren.json", "--beside-air"]);
	expect(code).toBe(2);
	expect(err).toContain("--beside-air: drill 'roll step' has no rig");
	expect(err).toContain("roll pivot, string rig");
});
