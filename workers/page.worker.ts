import type { Endpoint } from "comlink";
import { holdLifeline } from "./lifeline.ts";
import { PAGE_HANDLERS } from "./page-handlers.ts";
import { serve } from "./serve.ts";

/** A message to oneself goes behind those that wait, so that a cancel gets in. */
const breathe = (): Promise<void> =>
	new Promise((resolve) => {
		const { port1, port2 } = new MessageChannel();
		port1.onmessage = () => {
			port1.close();
			resolve();
		};
		port2.postMessage(null);
	});

holdLifeline((message) => (globalThis as unknown as Worker).postMessage(message));
serve(PAGE_HANDLERS, globalThis as unknown as Endpoint, breathe);
