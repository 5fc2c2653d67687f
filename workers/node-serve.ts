import { parentPort } from "node:worker_threads";
import { nodeEndpoint } from "./node-endpoint.ts";
import type { Handlers, JobTable } from "./protocol.ts";
import { serve } from "./serve.ts";

/** Serves jobs on this worker thread's parent port. */
export function serveNode<T extends JobTable>(handlers: Handlers<T>): void {
	if (!parentPort) throw new Error("serveNode: this module only runs inside a worker thread");
	serve(handlers, nodeEndpoint(parentPort), () => new Promise((resolve) => setImmediate(resolve)));
}
