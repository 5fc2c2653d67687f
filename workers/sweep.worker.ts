import type { Jobs } from "./jobs.ts";
import { serveNode } from "./node-serve.ts";
import { runSweepJob } from "./sweep-job.ts";

serveNode<Jobs>({
	sweep: (job, context) => runSweepJob(job, context, job.sweep.measure.kind === "flown" ? 1 : 50),
});
