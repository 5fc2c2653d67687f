import { spawnSync } from "node:child_process";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";

const url = (path: string): string => fileURLToPath(new URL(`../../${path}`, import.meta.url));

/** Calm flights until they are compiled, then one of everything that a calm flight does not meet, on both ways through the kernel. */
const program = `
import { AIR_ROUGHNESS, AIR_SHEAR_SCALE, AIR_SHEARED, AIR_SIZE, createKernel, ROTORS, stateSize, WORK_STEP } from ${JSON.stringify(url("src/physics/kernel-layout.ts"))};
import { stepHeld } from ${JSON.stringify(url("src/physics/kernel.ts"))};
import { samplePlant } from ${JSON.stringify(url("tests/fixtures/plant.ts"))};
const fly = (change, { turned = 0, rise = 0, u = 30, estimator = null, lowPass = null, rough = 0, steps }) => {
	const base = samplePlant(change);
	const rotors = base.rotors.map((r) => ({ ...r, axis: [0, Math.sin(turned), -Math.cos(turned)] }));
	const sensors = { gyroLowPassHz: lowPass, estimatorTimeConstantSec: estimator, gyroBiasRadPerSec: [0, 0, 0] };
	const kernel = createKernel({ ...base, rotors }, sensors);
	const x = new Float64Array(stateSize(4));
	x[2] = -5;
	x[5] = -rise;
	x[6] = 1;
	x.fill(450, ROTORS);
	const speeds = new Float64Array(4).fill(u);
	const air = new Float64Array(AIR_SIZE);
	air[AIR_SHEARED] = 3;
	air[AIR_ROUGHNESS] = rough;
	air[AIR_SHEAR_SCALE] = 0.2;
	const outside = new Float64Array(6);
	const start = x.slice();
	kernel.work[WORK_STEP] = 1e-3;
	for (let i = 0; i < steps; i++) {
		if (i % 100 === 0) x.set(start);
		stepHeld(kernel, x, speeds, air, outside);
	}
};
for (const turned of [0, 0.1]) fly({ groundEffect: false }, { turned, steps: 40000 });
console.log("compiled");
for (const turned of [0, 0.1])
	for (const change of [
		{ estimator: 0.5 },
		{ lowPass: 98 },
		{ rough: 0.03 },
		{ rise: 60 },
		{ u: 5 },
		{ u: 60 },
	])
		for (const plant of [{ groundEffect: true }, { openCircuitV: 1 }])
			fly(plant, { turned, ...change, steps: 300 });
console.log("flown");
`;

describe("the kernel's steps, once compiled", () => {
	it("meet no branch that sends them back (V8's own trace)", () => {
		const run = spawnSync(
			process.execPath,
			[
				"--no-concurrent-recompilation",
				"--trace-opt",
				"--trace-deopt",
				"--import",
				"tsx",
				"--input-type=module",
				"--eval",
				program,
			],
			{ cwd: url("."), encoding: "utf8" },
		);
		expect(run.stderr).toBe("");
		const [before, after] = run.stdout.split("compiled\n");
		expect(after).toMatch(/flown/);
		for (const name of ["evolve", "evolveAny", "slope"])
			expect(before).toMatch(new RegExp(`completed compiling \\S+ <JSFunction ${name} `));
		const sentBack = after!
			.split("\n")
			.filter((line) => /bailout.*<JSFunction (evolve|evolveAny|slope|stepHeld|stepLean) /.test(line));
		expect(sentBack).toEqual([]);
	});
});
