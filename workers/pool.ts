import { proxy, type Remote } from "comlink";
import { type JobTable, landError, type Outcome, type Request, type WorkerApi } from "./protocol.ts";

/** One started worker, whatever the environment. */
export interface Seat<T extends JobTable> {
	readonly remote: Remote<WorkerApi<T>>;
	/** Called once, when the worker ends without having been asked to. */
	onDeath(listener: (reason: string) => void): void;
	end(): Promise<void>;
}

export interface PoolOptions<T extends JobTable> {
	readonly size: number;
	readonly spawn: () => Seat<T>;
	/** A worker that, once loaded, neither answers nor reports progress for so long is taken for lost. */
	readonly replyTimeoutMs: number;
	/** How many workers a job may use up before it is given up. */
	readonly attempts: number;
}

export interface RunOptions<Progress> {
	readonly onProgress?: (value: Progress) => void;
	readonly signal?: AbortSignal;
}

interface Task<T extends JobTable> {
	readonly request: Request<T>;
	readonly onProgress: ((value: unknown) => void) | undefined;
	readonly settle: (outcome: Outcome<unknown>) => void;
	readonly fail: (error: Error) => void;
	/** Workers lost on it so far. */
	lost: number;
	settled: boolean;
	seat: Slot<T> | null;
	id: number;
}

interface Slot<T extends JobTable> {
	readonly seat: Seat<T>;
	task: Task<T> | null;
	timer: ReturnType<typeof setTimeout> | null;
	gone: boolean;
	/** Its module has loaded: only now does silence mean something. */
	ready: boolean;
}

/** The longest that a worker may take to load its module. */
const BOOT_MS = 60_000;

/** A job was cancelled by its caller or by the pool being closed. */
export class JobCancelled extends Error {
	override readonly name = "JobCancelled";
}

/** Every worker that tried the job died or fell silent. */
export class WorkerLost extends Error {
	override readonly name = "WorkerLost";
}

/**
 * Workers that share a queue of jobs. Workers start when first needed; one that dies or falls silent is
 * replaced and its job given to another. A call never stays pending: it ends with a result, the job's own
 * error, `JobCancelled` or `WorkerLost`.
 */
export class Pool<T extends JobTable> {
	readonly #options: PoolOptions<T>;
	readonly #slots = new Set<Slot<T>>();
	readonly #queue: Task<T>[] = [];
	#nextId = 1;
	#closed = false;

	constructor(options: PoolOptions<T>) {
		if (!Number.isInteger(options.size) || options.size < 1)
			throw new RangeError(`pool size ${options.size}: expected a whole number of at least 1`);
		this.#options = options;
	}

	get size(): number {
		return this.#options.size;
	}

	async run<K extends keyof T & string>(
		kind: K,
		job: T[K]["job"],
		options: RunOptions<T[K]["progress"]> = {},
	): Promise<T[K]["result"]> {
		if (this.#closed) throw new JobCancelled("the pool is closed");
		const { signal } = options;
		if (signal?.aborted) throw new JobCancelled(`job '${kind}' was cancelled before it started`);
		let onAbort = () => {};
		try {
			const outcome = await new Promise<Outcome<unknown>>((settle, fail) => {
				const task: Task<T> = {
					request: { kind, job } as Request<T>,
					onProgress: options.onProgress as ((value: unknown) => void) | undefined,
					settle,
					fail,
					lost: 0,
					settled: false,
					seat: null,
					id: 0,
				};
				onAbort = () => this.#cancel(task);
				signal?.addEventListener("abort", onAbort);
				this.#queue.push(task);
				this.#dispatch();
			});
			if (outcome.kind === "failed") throw landError(outcome.error);
			if (outcome.kind === "cancelled") throw new JobCancelled(`job '${kind}' was cancelled`);
			return outcome.result as T[K]["result"];
		} finally {
			signal?.removeEventListener("abort", onAbort);
		}
	}

	/** Ends every worker; what is pending is rejected with `JobCancelled`. */
	async close(): Promise<void> {
		this.#closed = true;
		for (const task of this.#queue.splice(0)) settle(task, { kind: "cancelled" });
		const slots = [...this.#slots];
		this.#slots.clear();
		for (const slot of slots) {
			slot.gone = true;
			if (slot.timer) clearTimeout(slot.timer);
			if (slot.task) settle(slot.task, { kind: "cancelled" });
		}
		await Promise.all(slots.map((slot) => slot.seat.end()));
	}

	#dispatch(): void {
		while (this.#queue.length > 0 && !this.#closed) {
			const slot = [...this.#slots].find((each) => each.task === null) ?? this.#open();
			if (!slot) return;
			this.#give(slot, this.#queue.shift()!);
		}
	}

	#open(): Slot<T> | null {
		if (this.#slots.size >= this.#options.size) return null;
		const slot: Slot<T> = { seat: this.#options.spawn(), task: null, timer: null, gone: false, ready: false };
		this.#slots.add(slot);
		slot.seat.onDeath((reason) => this.#lose(slot, reason));
		const hello = slot.seat.remote.hello as unknown as () => Promise<void>;
		hello().then(
			() => {
				slot.ready = true;
				if (slot.task) this.#watch(slot);
			},
			() => {},
		);
		return slot;
	}

	#give(slot: Slot<T>, task: Task<T>): void {
		const id = this.#nextId++;
		slot.task = task;
		task.seat = slot;
		task.id = id;
		this.#watch(slot);
		const onProgress = proxy((value: unknown) => {
			if (slot.gone || slot.task !== task || task.id !== id) return;
			this.#watch(slot);
			if (!task.settled) task.onProgress?.(value);
		});
		const run = slot.seat.remote.run as unknown as WorkerApi<T>["run"];
		run(id, task.request, onProgress).then(
			(outcome) => this.#release(slot, task, () => settle(task, outcome)),
			(error: unknown) =>
				this.#release(slot, task, () =>
					reject(task, error instanceof Error ? error : new Error(String(error))),
				),
		);
	}

	#release(slot: Slot<T>, task: Task<T>, finish: () => void): void {
		if (slot.gone || slot.task !== task) return;
		if (slot.timer) clearTimeout(slot.timer);
		slot.task = null;
		slot.timer = null;
		task.seat = null;
		finish();
		this.#dispatch();
	}

	#watch(slot: Slot<T>): void {
		if (slot.timer) clearTimeout(slot.timer);
		if (slot.gone) return;
		const replyTimeoutMs = Math.max(this.#options.replyTimeoutMs, slot.ready ? 0 : BOOT_MS);
		slot.timer = setTimeout(() => {
			const ended = slot.seat.end();
			this.#lose(slot, `no reply for ${replyTimeoutMs} ms`);
			ended.catch(() => {});
		}, replyTimeoutMs);
	}

	#lose(slot: Slot<T>, reason: string): void {
		if (slot.gone) return;
		slot.gone = true;
		if (slot.timer) clearTimeout(slot.timer);
		this.#slots.delete(slot);
		const { task } = slot;
		if (task && !task.settled) {
			task.seat = null;
			task.lost++;
			if (task.lost < this.#options.attempts) this.#queue.unshift(task);
			else
				reject(
					task,
					new WorkerLost(
						`job '${String(task.request.kind)}' lost ${task.lost} worker(s); the last: ${reason}`,
					),
				);
		}
		this.#dispatch();
	}

	#cancel(task: Task<T>): void {
		const queued = this.#queue.indexOf(task);
		if (queued >= 0) this.#queue.splice(queued, 1);
		else if (task.seat) {
			const cancel = task.seat.seat.remote.cancel as unknown as (id: number) => Promise<void>;
			cancel(task.id).catch(() => {});
		}
		settle(task, { kind: "cancelled" });
	}
}

function settle<T extends JobTable>(task: Task<T>, outcome: Outcome<unknown>): void {
	if (task.settled) return;
	task.settled = true;
	task.settle(outcome);
}

function reject<T extends JobTable>(task: Task<T>, error: Error): void {
	if (task.settled) return;
	task.settled = true;
	task.fail(error);
}
