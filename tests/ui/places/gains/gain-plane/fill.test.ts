import { expect, test } from "vitest";
import { corners } from "../../../../../src/analysis/corners.ts";
import type { SweepJson } from "../../../../../src/report/json/sweep.ts";
import { gainSetDocument } from "../../../../../src/scenario/gain-set-document.ts";
import { createSweepCells } from "../../../../../src/tuning/sweep.ts";
import {
	fillPlane,
	type PlaneQuestion,
	type PlaneStage,
} from "../../../../../src/ui/places/gains/gain-plane/fill.ts";
import { sideValues } from "../../../../../src/ui/places/gains/gain-plane/ranges.ts";
import type { SweepPool } from "../../../../../workers/run-sweep.ts";
import { runSweepJob } from "../../../../../workers/sweep-job.ts";
import { json, run } from "../../../../cli/run.ts";
import { FILES } from "../../../../cli/sample.ts";
import { good } from "../../../../scenario/files.ts";

const scenario = good(FILES["sample.json"]);
const { craft, gainSets, drills } = scenario;
const { name: pointName, point } = scenario.operatingPoints[0]!;
const set = gainSets[0]!;
const drill = drills.find((each) => each.name === "roll step")!;

/** Jobs done here, one after the other. */
const pool: SweepPool = {
	size: 2,
	async run(_, job, options) {
		await runSweepJob(
			job,
			{ progress: async (cells) => options?.onProgress?.(cells), pause: async () => {} },
			3,
		);
		return null;
	},
};

const question = (stages: readonly PlaneStage[], passes: readonly number[]): PlaneQuestion => ({
	text: JSON.stringify({
		...(scenario.document as Record<string, unknown>),
		gainSets: [gainSetDocument(set, "")],
	}),
	set: set.name,
	at: 0,
	axis: "roll",
	x: { gain: "kp", scale: "log", low: 0.02, high: 4 },
	y: { gain: "ki", scale: "log", low: 0.01, high: 2 },
	stages,
	passes,
});

async function filled(asked: PlaneQuestion) {
	const log: string[] = [];
	const found: { readonly [shows: string]: (readonly (number | null)[])[] } = {
		stands: [],
		corners: [],
		flight: [],
	};
	let shows = "";
	await fillPlane(pool, asked, {
		signal: new AbortController().signal,
		onStage(stage) {
			shows = stage.shows;
			log.push(shows);
		},
		onCells(cells) {
			for (const { index, numbers } of cells) found[shows]![index] = numbers;
		},
		onPass: (count) => log.push(String(count)),
	});
	return { log, found };
}

/** What the command line says over the same two gains, row by row. */
async function commandLine(asked: PlaneQuestion, more: readonly string[]) {
	const count = asked.passes.at(-1)!;
	const over = (gain: string, values: readonly number[]) => [
		"--over",
		`gainSets.${set.name}.roll.${gain}=${values.join(",")}`,
	];
	const swept = await run(
		[
			"sweep",
			"sample.json",
			...over("ki", sideValues(asked.y, count)),
			...over("kp", sideValues(asked.x, count)),
			...["--point", pointName, "--workers", "1", "--json"],
			...more,
		],
		{ files: FILES },
	);
	return (json(swept) as SweepJson).cells.map((cell) => cell.numbers);
}

/** Everything to 1e-9, relative. */
function expectSame(
	found: readonly (readonly (number | null)[])[],
	expected: readonly (readonly (number | null)[])[],
) {
	expect(found).toHaveLength(expected.length);
	expected.forEach((numbers, i) => {
		numbers.forEach((number, k) => {
			const own = found[i]![k]!;
			if (number === null) expect(own, `cell ${i}, column ${k}`).toBeNull();
			else
				expect(Math.abs(own - number), `cell ${i}, column ${k}`).toBeLessThanOrEqual(1e-9 * Math.abs(number));
		});
	});
}

const MARGINS = { kind: "margins", axis: "roll" } as const;
const points = corners(craft, point).map((corner) => corner.point);

test("cells of the craft as it stands are those of 'sweep'; then its corners take over, coarse to fine", async () => {
	const asked = question(
		[
			{ shows: "stands", measure: { ...MARGINS, points: [point] } },
			{ shows: "corners", measure: { ...MARGINS, points } },
		],
		[3, 5],
	);
	const { log, found } = await filled(asked);
	expect(log).toEqual(["stands", "3", "5", "corners", "3", "5"]);
	const expected = await commandLine(asked, []);
	const stable = expected.filter((numbers) => numbers[0] === 1).length;
	expect(stable).toBeGreaterThan(8);
	expect(stable).toBeLessThan(25);
	expectSame(found["stands"]!, expected);
	// The worst of all corners, every corner by itself and in the order of the list.
	const across = sideValues(asked.x, 5);
	const up = sideValues(asked.y, 5);
	const alone = points.map((each) =>
		createSweepCells(
			{
				axes: [
					{ path: "gainSets.A.roll.ki", values: up },
					{ path: "gainSets.A.roll.kp", values: across },
				],
				measure: { ...MARGINS, points: [each] },
			},
			([ki, kp]) => ({ craft, set: { ...set, roll: { ...set.roll, kp: kp!, ki: ki! } } }),
		)(0, 25),
	);
	const worst = Array.from({ length: 25 }, (_, i) => {
		const all = alone.map((cells) => cells[i]!.numbers);
		const isStable = all.every((numbers) => numbers[0] === 1);
		return all[0]!.map((first, k) => {
			if (k === 0) return isStable ? 1 : 0;
			if (!isStable) return k === 1 ? 0 : null;
			const there = all.flatMap((numbers) => (numbers[k] === null ? [] : [numbers[k]!]));
			if (there.length === 0) return first;
			return k === 2 ? Math.max(...there) : Math.min(...there);
		});
	});
	expectSame(found["corners"]!, worst);
	expect(worst.filter((numbers) => numbers[0] === 1).length).toBeLessThanOrEqual(stable);
});

test("flown cells are those of 'sweep --drill'", async () => {
	const asked = question([{ shows: "flight", measure: { kind: "flown", axis: "roll", drill, point } }], [3]);
	const { found } = await filled(asked);
	const expected = await commandLine(asked, ["--drill", "roll step"]);
	expect(expected.some((numbers) => numbers[0] === 1)).toBe(true);
	expectSame(found["flight"]!, expected);
});

test("goes on where it was stopped: no finished row is worked out again, and the whole is the same", async () => {
	const stages: PlaneStage[] = [
		{ shows: "stands", measure: { kind: "margins", axis: "roll", points: [point] } },
	];
	const asked = question(stages, [3, 5]);
	const whole = await filled(asked);
	const known = new Map<number, readonly (number | null)[]>();
	const stop = new AbortController();
	const keep = (cells: readonly { index: number; numbers: readonly (number | null)[] }[]): void => {
		for (const { index, numbers } of cells) known.set(index, numbers);
	};
	await fillPlane(pool, asked, {
		signal: stop.signal,
		onStage: () => {},
		onCells: keep,
		onPass: (count) => {
			if (count === 3) stop.abort();
		},
	});
	// The first grid, and what was under way.
	expect(known.size).toBeGreaterThanOrEqual(9);
	expect(known.size).toBeLessThan(25);
	const before = new Set(known.keys());
	let again = 0;
	await fillPlane(pool, asked, {
		signal: new AbortController().signal,
		isKnown: (_, index) => before.has(index),
		onStage: () => {},
		onCells(cells) {
			for (const { index } of cells) if (before.has(index)) again++;
			keep(cells);
		},
		onPass: () => {},
	});
	expect(again).toBe(0);
	expect(known.size).toBe(25);
	expect([...known.keys()].sort((a, b) => a - b).map((i) => known.get(i))).toEqual(whole.found["stands"]);
});
