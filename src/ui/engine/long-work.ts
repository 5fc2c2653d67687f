import { browserPool } from "../../../workers/browser-pool.ts";
import type { PageJobs } from "../../../workers/page-jobs.ts";
import type { Pool } from "../../../workers/pool.ts";

let pool: Pool<PageJobs> | null = null;

/** Workers of their own for what takes seconds, so that quick questions never wait behind it. */
export function longWork(): Pool<PageJobs> {
	pool ??= browserPool();
	return pool;
}
