import { wrap } from "comlink";
import { watchLifeline } from "./lifeline.ts";
import type { PageJobs } from "./page-jobs.ts";
import { Pool, type Seat } from "./pool.ts";
import type { WorkerApi } from "./protocol.ts";

/** Workers for this browser: one per processor, the page's own thread left free where there are many. */
export function browserPool(size = defaultSize()): Pool<PageJobs> {
	return new Pool<PageJobs>({ size, replyTimeoutMs: 120_000, attempts: 3, spawn });
}

const defaultSize = (): number => Math.max(2, Math.min(8, (navigator.hardwareConcurrency || 2) - 1));

function spawn(): Seat<PageJobs> {
	const worker = new Worker(new URL("./page.worker.ts", import.meta.url), { type: "module" });
	let listener: ((reason: string) => void) | null = null;
	watchLifeline(worker, () => listener?.("the worker ended"));
	worker.addEventListener("error", (event) => {
		worker.terminate();
		listener?.(event.message || "the worker stopped");
	});
	return {
		remote: wrap<WorkerApi<PageJobs>>(worker),
		onDeath(each) {
			listener = each;
		},
		end() {
			worker.terminate();
			return Promise.resolve();
		},
	};
}
