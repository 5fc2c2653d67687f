import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { nodeSeat } from "../../workers/node-seat.ts";
import { JobCancelled, Pool, WorkerLost } from "../../workers/pool.ts";
import type { SampleJobs } from "./sample-jobs.ts";

const entry = new URL("./sample.worker.ts", import.meta.url);
let started = 0;
let pools: Pool<SampleJobs>[] = [];
let folder = "";

function open(size = 1, replyTimeoutMs = 60_000): Pool<SampleJobs> {
	const pool = new Pool<SampleJobs>({
		size,
		replyTimeoutMs,
		attempts: 3,
		spawn: () => {
			started++;
			return nodeSeat<SampleJobs>(entry);
		},
	});
	pools.push(pool);
	return pool;
}

function tally(): string {
	const path = join(folder, "tally");
	writeFileSync(path, "");
	return path;
}

beforeEach(() => {
	started = 0;
	folder = mkdtempSync(join(tmpdir(), "levelhead-pool-"));
});

afterEach(async () => {
	await Promise.all(pools.map((pool) => pool.close()));
	pools = [];
	rmSync(folder, { recursive: true });
});

describe("work", () => {
	test("many jobs over two workers, answers in the order of the calls", async () => {
		const pool = open(2);
		const jobs = Array.from({ length: 40 }, (_, i) => i);
		expect(await Promise.all(jobs.map((x) => pool.run("double", x)))).toEqual(jobs.map((x) => 2 * x));
		expect(started).toBe(2);
	});

	test("no more workers than jobs", async () => {
		const pool = open(8);
		expect(await pool.run("double", 4)).toBe(8);
		expect(started).toBe(1);
	});

	test("progress arrives in order and before the result", async () => {
		const seen: number[] = [];
		await open().run("count", 5, { onProgress: (value) => seen.push(value) });
		expect(seen).toEqual([1, 2, 3, 4, 5]);
	});
});

describe("errors", () => {
	test("cross with name, message and the stack of where they were thrown; the worker lives on", async () => {
		const pool = open();
		const error = await pool
			.run("fail", "kp -1: expected a positive number")
			.catch((e: unknown) => e as Error);
		expect(error).toMatchObject({ name: "OddError", message: "kp -1: expected a positive number" });
		expect((error as Error).stack).toContain("sample.worker.ts");
		expect(await pool.run("double", 1)).toBe(2);
		expect(started).toBe(1);
	});

	test("a result that cannot cross is an error, not silence", async () => {
		await expect(open().run("unsendable", null)).rejects.toThrow(/[Uu]nserializable/);
	});

	test("an unknown job", async () => {
		const pool = open() as unknown as Pool<{ nothing: { job: 1; progress: 1; result: 1 } }>;
		await expect(pool.run("nothing", 1)).rejects.toThrow("no handler for job kind 'nothing'");
	});
});

describe("a worker that dies", () => {
	test("is replaced and its job finishes, as do the others", async () => {
		const pool = open(1);
		const others = [1, 2, 3].map((x) => pool.run("double", x));
		expect(await pool.run("die", { tally: tally(), times: 1 })).toBe("survived");
		expect(await Promise.all(others)).toEqual([2, 4, 6]);
		expect(started).toBe(2);
	});

	test("again and again: the job is given up with the reason, the pool works on", async () => {
		const pool = open();
		const error = await pool.run("die", { tally: tally(), times: 99 }).catch((e: unknown) => e as Error);
		expect(error).toBeInstanceOf(WorkerLost);
		expect((error as Error).message).toBe(
			"job 'die' lost 3 worker(s); the last: the worker ended with exit code 7",
		);
		expect(await pool.run("double", 3)).toBe(6);
	});

	test("by an error outside the job: its name and message are in the reason", async () => {
		await expect(open().run("throwLater", null)).rejects.toThrow("OddError: outside the job");
	});

	test("one whose module does not exist", async () => {
		const pool = new Pool<SampleJobs>({
			size: 1,
			replyTimeoutMs: 60_000,
			attempts: 2,
			spawn: () => nodeSeat<SampleJobs>(new URL("./absent.ts", import.meta.url)),
		});
		pools.push(pool);
		await expect(pool.run("double", 1)).rejects.toThrow(/lost 2 worker.*absent/s);
	});
});

describe("a lost reply", () => {
	test("times out, the worker is replaced, the pool works on", async () => {
		const pool = open(1, 1000);
		await expect(pool.run("hang", null)).rejects.toThrow("lost 3 worker(s); the last: no reply for 1000 ms");
		expect(await pool.run("double", 3)).toBe(6);
		expect(started).toBe(4);
	});

	test("progress counts as a sign of life", async () => {
		const pool = open(1, 1000);
		expect(await pool.run("beat", { beats: 10, ms: 200 })).toBe("alive");
		expect(started).toBe(1);
	});
});

describe("cancelling", () => {
	test("a running job stops at its next pause; the same worker takes the next job", async () => {
		const pool = open();
		const control = new AbortController();
		const seen: number[] = [];
		const running = pool.run("count", 1e9, {
			signal: control.signal,
			onProgress: (value) => {
				seen.push(value);
				if (value === 3) control.abort();
			},
		});
		await expect(running).rejects.toBeInstanceOf(JobCancelled);
		expect(await pool.run("double", 1)).toBe(2);
		expect(started).toBe(1);
		expect(seen).toEqual([1, 2, 3]);
	});

	test("a waiting job never starts", async () => {
		const pool = open();
		const control = new AbortController();
		const first = pool.run("block", 200);
		const second = pool.run("double", 2, { signal: control.signal });
		control.abort();
		await expect(second).rejects.toThrow("job 'double' was cancelled");
		expect(await first).toBe("done");
	});

	test("before the start", async () => {
		await expect(open().run("double", 2, { signal: AbortSignal.abort() })).rejects.toThrow(
			"before it started",
		);
		expect(started).toBe(0);
	});

	test("closing rejects what is pending, at once, even when a worker is blocked", async () => {
		const pool = open();
		await pool.run("double", 1);
		const pending = [pool.run("block", 60_000), pool.run("double", 2)];
		const settled = Promise.allSettled(pending);
		await pool.close();
		for (const each of await settled)
			expect(each).toMatchObject({ status: "rejected", reason: { name: "JobCancelled" } });
		await expect(pool.run("double", 1)).rejects.toThrow("the pool is closed");
	});
});

test("a size that makes no sense names itself", () => {
	expect(() => open(0)).toThrow("pool size 0: expected a whole number of at least 1");
});
