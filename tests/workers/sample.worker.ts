import { appendFileSync, readFileSync } from "node:fs";
import { threadId } from "node:worker_threads";
import { serveNode } from "../../workers/node-serve.ts";
import type { SampleJobs } from "./sample-jobs.ts";

class OddError extends Error {
	override readonly name = "OddError";
}

serveNode<SampleJobs>({
	double: (x) => 2 * x,
	async count(to, context) {
		for (let i = 1; i <= to; i++) {
			await context.progress(i);
			await context.pause();
		}
		return to;
	},
	async beat({ beats, ms }, context) {
		for (let i = 0; i < beats; i++) {
			await new Promise((resolve) => setTimeout(resolve, ms));
			await context.progress(i);
		}
		return "alive";
	},
	fail(message) {
		throw new OddError(message);
	},
	die({ tally, times }) {
		if (readFileSync(tally, "utf8").length < times) {
			appendFileSync(tally, "x");
			process.exit(7);
		}
		return "survived";
	},
	throwLater: () =>
		new Promise<never>(() => {
			setImmediate(() => {
				throw new OddError("outside the job");
			});
		}),
	hang: () => new Promise<never>(() => {}),
	block(ms) {
		const until = performance.now() + ms;
		while (performance.now() < until);
		return "done";
	},
	thread: () => threadId,
	unsendable: () => () => 1,
});
