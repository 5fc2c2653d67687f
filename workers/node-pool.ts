import { availableParallelism } from "node:os";
import type { Jobs } from "./jobs.ts";
import { nodeSeat } from "./node-seat.ts";
import { Pool } from "./pool.ts";

/** Workers for this machine: one per processor unless a size is given. */
export function nodePool(size = availableParallelism()): Pool<Jobs> {
	return new Pool<Jobs>({
		size,
		replyTimeoutMs: 300_000,
		attempts: 3,
		spawn: () => nodeSeat<Jobs>(new URL("./sweep.worker.ts", import.meta.url)),
	});
}
