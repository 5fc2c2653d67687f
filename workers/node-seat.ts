import { Worker } from "node:worker_threads";
import { wrap } from "comlink";
import { nodeEndpoint } from "./node-endpoint.ts";
import type { Seat } from "./pool.ts";
import type { JobTable, WorkerApi } from "./protocol.ts";

/** Starts a worker thread that imports `entry`, a .ts module which serves on its parent port. */
export function nodeSeat<T extends JobTable>(entry: URL): Seat<T> {
	const worker = new Worker(new URL("./node-boot.mjs", import.meta.url), {
		workerData: { entry: entry.href },
	});
	let asked = false;
	let reason = "";
	let listener: ((reason: string) => void) | null = null;
	worker.on("error", (error: Error) => {
		reason = `${error.name}: ${error.message}`;
	});
	worker.on("exit", (code) => {
		if (!asked) listener?.(reason || `the worker ended with exit code ${code}`);
	});
	return {
		remote: wrap<WorkerApi<T>>(nodeEndpoint(worker)),
		onDeath(each) {
			listener = each;
		},
		async end() {
			asked = true;
			await worker.terminate();
		},
	};
}
