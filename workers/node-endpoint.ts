import type { MessagePort, Worker } from "node:worker_threads";
import type { Endpoint } from "comlink";

type Listener = Parameters<Endpoint["addEventListener"]>[1];

/** A worker thread, or the port to its parent, as the message endpoint that a browser's worker is. */
export function nodeEndpoint(port: MessagePort | Worker): Endpoint {
	const wrapped = new Map<Listener, (data: unknown) => void>();
	return {
		postMessage: (message: unknown, transfer?: unknown) =>
			port.postMessage(message, transfer as Parameters<MessagePort["postMessage"]>[1]),
		addEventListener(_type: string, listener: Listener) {
			const handle = (data: unknown) => {
				const event = { data } as unknown as Parameters<Extract<Listener, (event: never) => void>>[0];
				if (typeof listener === "function") listener(event);
				else listener.handleEvent(event);
			};
			wrapped.set(listener, handle);
			port.on("message", handle);
		},
		removeEventListener(_type: string, listener: Listener) {
			const handle = wrapped.get(listener);
			if (handle) port.off("message", handle);
			wrapped.delete(listener);
		},
	};
}
