import { readFileSync } from "node:fs";
import { corners } from "../src/analysis/corners.ts";
import { loadScenario, withValue } from "../src/scenario/load.ts";
import type { Sweep } from "../src/tuning/sweep.ts";
import { nodePool } from "../workers/node-pool.ts";
import { PAGE_HANDLERS } from "../workers/page-handlers.ts";
import { runSweep } from "../workers/run-sweep.ts";

/** What the page's workers do, on one thread of Node: no page, no messages, no drawing. */

const text = readFileSync(new URL("../scenarios/sandpiper.json", import.meta.url), "utf8");
const loaded = loadScenario(text);
if (!loaded.ok) throw new Error(loaded.errors.map((each) => each.message).join("; "));
const { craft, operatingPoints, gainSets, drills } = loaded.scenario;
const { name: pointName, point } = operatingPoints[0]!;
const set = gainSets[0]!;

/** Milliseconds of every repetition but the first. */
function timed(repetitions: number, work: (i: number) => void): number[] {
	return Array.from({ length: repetitions + 1 }, (_, i) => {
		const start = performance.now();
		work(i);
		return performance.now() - start;
	}).slice(1);
}

const context = { progress: async () => {}, pause: async () => {} };
/** The demo with other gains each time, as a drag makes them. */
const dragged = (i: number): string =>
	JSON.stringify(withValue(JSON.parse(text), "gainSets[0].roll.kp", set.roll.kp * (1 + 0.004 * i)));

/** Margins of the axis and its sampled loop, for one move of a drag. */
export const linearMs = (moves: number): number[] =>
	timed(moves, (i) => {
		const about = { text: dragged(i), point: pointName, set: set.name, axis: "roll" as const };
		void PAGE_HANDLERS.axis(about, context);
		void PAGE_HANDLERS.loop({ ...about, opened: "rate" }, context);
	});

/** The drill flown for one move of a drag. */
export const flownMs = (moves: number): number[] =>
	timed(moves, (i) => {
		void PAGE_HANDLERS.flight(
			{ text: dragged(i), point: pointName, set: set.name, drill: drills[0]!.name },
			context,
		);
	});

/** A plane of kp and ki, `side` cells a side, a quarter to four times the set's own, by one worker thread. */
export async function planeSec(kind: "margins" | "flown", side: number): Promise<number> {
	const spread = (about: number): number[] =>
		Array.from({ length: side }, (_, i) => (about / 4) * 16 ** (i / (side - 1)));
	const path = (gain: string) => `gainSets.${set.name}.roll.${gain}`;
	const sweep: Sweep = {
		axes: [
			{ path: path("ki"), values: spread(set.roll.ki) },
			{ path: path("kp"), values: spread(set.roll.kp) },
		],
		measure:
			kind === "flown"
				? { kind, axis: "roll", drill: drills[0]!, point }
				: { kind, axis: "roll", points: corners(craft, point).map((corner) => corner.point) },
	};
	const small: Sweep = {
		...sweep,
		axes: sweep.axes.map((each) => ({ ...each, values: each.values.slice(0, 3) })),
	};
	const pool = nodePool(1);
	try {
		await runSweep(pool, { text, setName: set.name, units: ["", ""], sweep: small });
		const start = performance.now();
		await runSweep(pool, { text, setName: set.name, units: ["", ""], sweep });
		return (performance.now() - start) / 1000;
	} finally {
		await pool.close();
	}
}
