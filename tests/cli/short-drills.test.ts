import { expect, test } from "vitest";
import type { CompareJson } from "../../src/report/json/compare.ts";
import type { FlyJson } from "../../src/report/json/fly.ts";
import type { SweepJson } from "../../src/report/json/sweep.ts";
import { json, run } from "./run.ts";
import { sample } from "./sample.ts";

const torque = (at: string) => ({ kind: "torque", at, torque: ["0.1 N m", 0, 0], duration: "10 ms" });

/** What each drill has beside its name; the trace has a record every 2 ms. */
const DRILLS = {
	"angle at the end": {
		duration: "2 s",
		events: [{ kind: "angle", at: "2 s", axis: "roll", angle: "10 deg" }],
	},
	"torque at the end": { duration: "2 s", events: [torque("2 s")] },
	"height at the end": {
		duration: "2 s",
		events: [{ kind: "height", at: "2 s", height: "11 m", by: "law" }],
	},
	"gust near the end": {
		duration: "2 s",
		wind: { gusts: [{ at: "1.999 s", velocity: [0, "4 m/s", 0], rise: "0.5 s", ending: "returns" }] },
	},
	"torque near the end": { duration: "2 s", events: [torque("1.998 s")] },
	"turn near the end": {
		duration: "2 s",
		events: [{ kind: "rate", at: "1.997 s", axis: "yaw", rate: "45 deg/s" }],
	},
	"a microsecond": { duration: "1 us" },
	"1 ms": { duration: "1 ms" },
	"2 ms": { duration: "2 ms" },
	"3 ms": { duration: "3 ms" },
};
const names = Object.keys(DRILLS) as (keyof typeof DRILLS)[];
const files = {
	"short.json": sample((d) => {
		d.drills = names.map((name) => ({
			name,
			about: "Short.",
			...DRILLS[name],
		})) as unknown as typeof d.drills;
	}),
};
/** Which axis has its set-point moved. */
const STEPPED: { readonly [name: string]: string } = {
	"angle at the end": "roll",
	"turn near the end": "yaw",
};
const NO_STEP = /^the drill gives this axis no step$/;
const SHORT_STEP = /^the drill steps this axis for too short a time to measure$/;
const TOO_SOON =
	/^the drill ends [\d.]+ ms after (the first thing in it happens|it begins): too soon to measure$/;

test.each(names)("fly: %s", async (name) => {
	const line = ["fly", "short.json", "--drill", name];
	const found = json(await run([...line, "--json"], { files })) as FlyJson;
	expect([found.status, found.fails]).toEqual(["completed", []]);
	for (const axis of ["roll", "pitch", "yaw"] as const) {
		const metrics = found.metrics[axis];
		const noStep = axis === STEPPED[name] ? SHORT_STEP : NO_STEP;
		for (const [key, value] of Object.entries(metrics)) {
			if (key === "why") continue;
			expect(value, `${axis} ${key}`).toBeNull();
			expect(metrics.why[key], `${axis} ${key}`).toMatch(
				/^(overshoot|rise|peakTime|settling)/.test(key) ? noStep : TOO_SOON,
			);
		}
	}
	const text = await run([...line, "--plot", "p.svg"], { files });
	expect([text.code, text.err]).toEqual([0, "step picture written to p.svg\n"]);
});

test.each(names)("a flown sweep: %s", async (name) => {
	const line = ["sweep", "short.json", "--over", "craft.mass=1.1,1.2", "--drill", name, "--workers", "1"];
	const result = await run([...line, "--json"], { files });
	expect(result.code).toBe(0);
	const { cells, columns } = json(result) as SweepJson;
	for (const { numbers, why } of cells) {
		expect(numbers[columns.indexOf("completed")]).toBe(1);
		expect(numbers[columns.indexOf("iaeDegSec")]).toBeNull();
		expect(why).toMatch(/^the drill .* this axis .*; the drill ends .* too soon to measure/);
	}
});

test("compare: such drills beside each other, each without numbers", async () => {
	const result = await run(["compare", "short.json", "--json"], { files });
	expect(result.code).toBe(0);
	const { rows } = json(result) as CompareJson;
	expect(rows.filter(({ drill, what }) => drill !== null && what.endsWith("IAE"))).toEqual([]);
});
