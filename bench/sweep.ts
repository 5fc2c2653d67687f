import { readFileSync } from "node:fs";
import { availableParallelism } from "node:os";
import { loadScenario } from "../src/scenario/load.ts";
import type { Sweep } from "../src/tuning/sweep.ts";
import { nodePool } from "../workers/node-pool.ts";
import { runSweep } from "../workers/run-sweep.ts";

export interface SweepTiming {
	readonly workers: number;
	readonly seconds: number;
	readonly cells: number;
	/** Over all numbers: the same whatever the number of workers. */
	readonly checksum: number;
}

const FILE = new URL("../scenarios/sandpiper.json", import.meta.url);
const SIDE = 50;

const spread = (from: number, to: number): number[] =>
	Array.from({ length: SIDE }, (_, i) => from + ((to - from) * i) / (SIDE - 1));

/** A 50 x 50 plane over kp and k_angle of the demo craft, with one worker and with one per processor. */
export async function benchSweep(kind: "margins" | "flown"): Promise<readonly SweepTiming[]> {
	const text = readFileSync(FILE, "utf8");
	const loaded = loadScenario(text);
	if (!loaded.ok) throw new Error(loaded.errors.map((e) => e.message).join("; "));
	const { scenario } = loaded;
	const point = scenario.operatingPoints[0]!.point;
	const drill = scenario.drills.find((d) => d.name === "roll step")!;
	const set = scenario.gainSets[0]!.name;
	const sweep: Sweep = {
		axes: [
			{ path: `gainSets.${set}.roll.kp`, values: spread(0.02, 0.16) },
			{ path: `gainSets.${set}.roll.kAngle`, values: spread(1, 8) },
		],
		measure:
			kind === "flown" ? { kind, axis: "roll", drill, point } : { kind, axis: "roll", points: [point] },
	};
	const timings: SweepTiming[] = [];
	for (const workers of [...new Set([1, availableParallelism()])]) {
		const pool = nodePool(workers);
		try {
			const small: Sweep = {
				...sweep,
				axes: sweep.axes.map((a) => ({ ...a, values: a.values.slice(0, 4) })),
			};
			await runSweep(pool, { text, setName: set, units: ["", ""], sweep: small });
			const start = performance.now();
			const run = await runSweep(pool, { text, setName: set, units: ["", ""], sweep });
			const seconds = (performance.now() - start) / 1000;
			const checksum = run.cells.reduce(
				(sum, cell) => sum + (cell?.numbers.reduce<number>((s, v) => s + (v ?? 0), 0) ?? 0),
				0,
			);
			timings.push({ workers, seconds, cells: run.cells.length, checksum });
		} finally {
			await pool.close();
		}
	}
	return timings;
}
