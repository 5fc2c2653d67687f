import { cellCount, type Sweep, type SweepCell } from "../src/tuning/sweep.ts";
import { chunks } from "./chunks.ts";
import type { SweepJob } from "./jobs.ts";
import { JobCancelled, type RunOptions } from "./pool.ts";

export interface SweepRun {
	/** Finished cells by index; holes where cancelled. */
	readonly cells: readonly (SweepCell | undefined)[];
	readonly complete: boolean;
}

/** Any pool whose workers do sweeps. */
export interface SweepPool {
	readonly size: number;
	run(kind: "sweep", job: SweepJob, options?: RunOptions<readonly SweepCell[]>): Promise<null>;
}

/** A whole sweep on a pool; the cells do not depend on how many workers share it. */
export async function runSweep(
	pool: SweepPool,
	work: Pick<SweepJob, "text" | "setName" | "units" | "pointName" | "drillName"> & { readonly sweep: Sweep },
	options: {
		readonly signal?: AbortSignal;
		readonly onProgress?: (done: number, total: number) => void;
		/** Cells as they are finished. */
		readonly onCells?: (cells: readonly SweepCell[]) => void;
	} = {},
): Promise<SweepRun> {
	const total = cellCount(work.sweep);
	const cells = new Array<SweepCell | undefined>(total).fill(undefined);
	let done = 0;
	const take = (finished: readonly SweepCell[]): void => {
		for (const cell of finished) {
			if (!cells[cell.index]) done++;
			cells[cell.index] = cell;
		}
		options.onCells?.(finished);
		options.onProgress?.(done, total);
	};
	// A few runs per worker, so that none waits long for the last.
	const most = Math.max(1, Math.min(200, Math.ceil(total / (4 * pool.size))));
	const runs = chunks(total, most).map((chunk) => ({ chunk, stop: new AbortController() }));
	const stopAll = () => {
		for (const run of runs) run.stop.abort();
	};
	options.signal?.addEventListener("abort", stopAll);
	if (options.signal?.aborted) stopAll();
	try {
		const pending = runs.map(({ chunk, stop }) =>
			pool.run("sweep", { ...work, ...chunk }, { onProgress: take, signal: stop.signal }),
		);
		const failed = (await Promise.allSettled(pending.map((run) => run.catch(stopOthers)))).find(
			(each) => each.status === "rejected" && !(each.reason instanceof JobCancelled),
		);
		if (failed?.status === "rejected") throw failed.reason;
	} finally {
		options.signal?.removeEventListener("abort", stopAll);
	}
	return { cells, complete: done === total };

	function stopOthers(error: unknown): never {
		stopAll();
		throw error;
	}
}
