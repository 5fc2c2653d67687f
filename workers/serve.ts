import { type Endpoint, expose, type ProxyMarked, type Remote, releaseProxy } from "comlink";
import {
	crossError,
	type Handlers,
	type JobTable,
	type Outcome,
	type Request,
	type WorkerApi,
} from "./protocol.ts";

class Cancelled extends Error {}

/**
 * Answers jobs on an endpoint. `breathe` lets waiting messages in: `setImmediate` in Node (posting to oneself
 * starves other messages there), a message channel in a browser.
 */
export function serve<T extends JobTable>(
	handlers: Handlers<T>,
	endpoint: Endpoint,
	breathe: () => Promise<void>,
): void {
	const cancelled = new Set<number>();
	const api: WorkerApi<T> = {
		async run(id, request: Request<T>, onProgress): Promise<Outcome<unknown>> {
			const remote = onProgress as Remote<((value: unknown) => void) & ProxyMarked>;
			const stopIfCancelled = () => {
				if (cancelled.has(id)) throw new Cancelled();
			};
			try {
				const handler = handlers[request.kind];
				if (!handler) throw new Error(`no handler for job kind '${String(request.kind)}'`);
				const result = await handler(request.job, {
					progress: async (value) => {
						await remote(value);
						stopIfCancelled();
					},
					pause: async () => {
						await breathe();
						stopIfCancelled();
					},
				});
				return { kind: "done", result };
			} catch (error) {
				return error instanceof Cancelled
					? { kind: "cancelled" }
					: { kind: "failed", error: crossError(error) };
			} finally {
				cancelled.delete(id);
				remote[releaseProxy]();
			}
		},
		cancel(id) {
			cancelled.add(id);
		},
		hello() {},
	};
	expose(api, endpoint);
}
