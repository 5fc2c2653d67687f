import { expect, test } from "vitest";
import { loadScenario } from "../../src/scenario/load.ts";
import type { SweepCell } from "../../src/tuning/sweep.ts";
import type { SweepJob } from "../../workers/jobs.ts";
import { runSweepJob } from "../../workers/sweep-job.ts";
import { good, textOf } from "../scenario/files.ts";

const text = textOf("sandpiper");
const scenario = good(text);
const { point } = scenario.operatingPoints[0]!;
const KP = { path: "gainSets.A.roll.kp", values: [0.04, 0.07, -1, 0.1] };
const LAG = { path: "craft.motors.lag", values: [40, 80] };
const short = { ...scenario.drills.find((each) => each.name === "roll step")!, durationSec: 1 };

const work = (changes: Partial<SweepJob>): SweepJob => ({
	text,
	setName: "A",
	sweep: { axes: [KP, LAG], measure: { kind: "margins", axis: "roll", points: [point] } },
	units: ["", "ms"],
	first: 0,
	count: 8,
	...changes,
});

async function cellsOf(job: SweepJob, cellsPerReport = 3): Promise<SweepCell[]> {
	const cells: SweepCell[] = [];
	await runSweepJob(
		job,
		{ progress: async (some) => void cells.push(...some), pause: async () => {} },
		cellsPerReport,
	);
	return cells;
}

/** One after the other, each as if no other had been asked. */
async function oneByOne(job: SweepJob): Promise<SweepCell[]> {
	const cells: SweepCell[] = [];
	for (let i = job.count - 1; i >= 0; i--) {
		// Another document is another sweep: nothing is kept.
		const other = JSON.stringify({ ...JSON.parse(job.text), note: `no. ${i}` });
		cells.unshift(...(await cellsOf({ ...job, text: other, first: i, count: 1 })));
	}
	return cells;
}

test.each([
	["gain by craft", work({})],
	["craft by gain", work({ sweep: { ...work({}).sweep, axes: [LAG, KP] }, units: ["ms", ""] })],
	[
		"gain by gain",
		work({
			sweep: { ...work({}).sweep, axes: [KP, { path: "gainSets.A.roll.kAngle", values: [2, 4] }] },
			units: ["", ""],
		}),
	],
	[
		"flown",
		work({ sweep: { axes: [KP, LAG], measure: { kind: "flown", axis: "roll", drill: short, point } } }),
	],
])("what cells share does not show in them: %s", async (_, job) => {
	const whole = await cellsOf(job);
	expect(whole.filter((cell) => cell.numbers[0] === 1).length).toBeGreaterThanOrEqual(5);
	expect(whole.filter((cell) => cell.why.includes("-1, expected a number of at least 0"))).toHaveLength(2);
	expect(JSON.stringify(await oneByOne(job))).toBe(JSON.stringify(whole));
	// A thread is also given runs of one sweep in any order, and another sweep in between.
	const later = await cellsOf({ ...job, first: 3, count: 5 });
	await cellsOf(work({ units: ["", "s"], count: 1 }));
	const early = await cellsOf({ ...job, first: 0, count: 3 });
	expect(JSON.stringify([...early, ...later])).toBe(JSON.stringify(whole));
});

test("a file of version 1 is swept as its migrated self", async () => {
	const old = {
		levelhead: 1,
		craft: {
			mass: "1.2 kg",
			wheelbase: "450 mm",
			propeller: { diameter: "10 in" },
			motors: { staticThrust: "850 g", lag: "50 ms" },
			timing: { loopRate: "500 Hz" },
		},
		gainSets: { A: { roll: { kAngle: 2, kp: 0.05 }, yaw: { kp: 0.1 } } },
	};
	const axes = [{ path: "gainSets.A.roll.kp", values: [0.03, 0.05] }];
	const { sweep } = work({});
	const cells = await cellsOf(work({ text: JSON.stringify(old), sweep: { ...sweep, axes }, count: 2 }));
	const now = { ...JSON.parse(textOf("ten-lines")), gainSets: [{ name: "A", ...old.gainSets.A }] };
	expect(loadScenario(JSON.stringify(now)).ok).toBe(true);
	expect(await cellsOf(work({ text: JSON.stringify(now), sweep: { ...sweep, axes }, count: 2 }))).toEqual(
		cells,
	);
	expect(cells.every((cell) => cell.numbers[0] === 1)).toBe(true);
});
