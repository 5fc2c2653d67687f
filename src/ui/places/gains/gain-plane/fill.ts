import type { SweepPool } from "../../../../../workers/run-sweep.ts";
import { runSweep } from "../../../../../workers/run-sweep.ts";
import type { AxisName } from "../../../../control/spec.ts";
import type { Sweep } from "../../../../tuning/sweep.ts";
import { passBlocks } from "./passes.ts";
import { type Side, sideValues } from "./ranges.ts";

/** All that the cells of a plane depend on. */
export interface PlaneQuestion {
	/** The scenario, the set written out in internal units. */
	readonly text: string;
	readonly set: string;
	/** Place of the set in the scenario. */
	readonly at: number;
	readonly axis: AxisName;
	readonly x: Side;
	readonly y: Side;
	/** One after the other over the same cells: each is a better answer than the one before. */
	readonly stages: readonly PlaneStage[];
	readonly passes: readonly number[];
}

export interface PlaneStage {
	/** What its cells are: of the craft as it stands, the worst of its corners, or a flight. */
	readonly shows: "stands" | "corners" | "flight";
	readonly measure: Sweep["measure"];
}

export interface FillSteps {
	readonly signal: AbortSignal;
	/** Finished cells by their place in the finest grid, row by row. */
	readonly onCells: (
		cells: readonly {
			readonly index: number;
			readonly numbers: readonly (number | null)[];
			readonly why: string;
		}[],
	) => void;
	/** Whether a cell of a stage is known from before, and so not worked out again. */
	readonly isKnown?: (stage: PlaneStage, index: number) => boolean;
	/** From here on cells are of this stage. */
	readonly onStage: (stage: PlaneStage) => void;
	/** A grid of so many cells a side is complete. */
	readonly onPass: (count: number) => void;
}

/** Works a plane out stage by stage, each coarse to fine, by the sweep of the command line; no cell of a stage twice. */
export async function fillPlane(pool: SweepPool, question: PlaneQuestion, steps: FillSteps): Promise<void> {
	for (const stage of question.stages) {
		steps.onStage(stage);
		await fillStage(pool, question, stage, steps);
		if (steps.signal.aborted) return;
	}
}

async function fillStage(
	pool: SweepPool,
	{ passes, x, y, at, axis, text, set }: PlaneQuestion,
	stage: PlaneStage,
	steps: FillSteps,
): Promise<void> {
	const { measure } = stage;
	const finest = passes[passes.length - 1]!;
	const across = sideValues(x, finest);
	const up = sideValues(y, finest);
	for (const [k, count] of passes.entries()) {
		for (const { columns, rows: all } of passBlocks(passes, k)) {
			const rows = all.filter((j) => columns.some((i) => !steps.isKnown?.(stage, j * finest + i)));
			if (rows.length === 0) continue;
			const sweep: Sweep = {
				// The first axis turns slowest: rows.
				axes: [
					{ path: `gainSets[${at}].${axis}.${y.gain}`, values: rows.map((j) => up[j]!) },
					{ path: `gainSets[${at}].${axis}.${x.gain}`, values: columns.map((i) => across[i]!) },
				],
				measure,
			};
			await runSweep(
				pool,
				{ text, setName: set, units: ["", ""], sweep },
				{
					signal: steps.signal,
					onCells: (cells) =>
						steps.onCells(
							cells.map(({ index, numbers, why }) => ({
								index: rows[Math.floor(index / columns.length)]! * finest + columns[index % columns.length]!,
								numbers,
								why,
							})),
						),
				},
			);
			if (steps.signal.aborted) return;
		}
		steps.onPass(count);
	}
}
