/** Every kind of job that a worker does: what goes in, what it says on the way, what comes out. */
export interface JobTable {
	readonly [kind: string]: { readonly job: unknown; readonly progress: unknown; readonly result: unknown };
}

/** The one union of messages that starts work. */
export type Request<T extends JobTable> = {
	readonly [K in keyof T]: { readonly kind: K; readonly job: T[K]["job"] };
}[keyof T];

/** The one union of answers. */
export type Outcome<Result> =
	| { readonly kind: "done"; readonly result: Result }
	| { readonly kind: "cancelled" }
	| { readonly kind: "failed"; readonly error: CrossedError };

/** An error as it crosses a thread boundary. */
export interface CrossedError {
	readonly name: string;
	readonly message: string;
	readonly stack: string;
}

/** What a worker exposes. */
export interface WorkerApi<T extends JobTable> {
	run(
		id: number,
		request: Request<T>,
		onProgress: (value: unknown) => void | Promise<void>,
	): Promise<Outcome<unknown>>;
	cancel(id: number): void;
	/** Answers as soon as the worker's module stands. */
	hello(): void;
}

/** What a job may do while it works. */
export interface JobContext<Progress> {
	/** Sends a value to the caller and waits until it is there, so that the result cannot overtake it. */
	progress(value: Progress): Promise<void>;
	/** Lets messages in; throws when the job has been cancelled. Call between chunks of work. */
	pause(): Promise<void>;
}

export type Handlers<T extends JobTable> = {
	readonly [K in keyof T]: (
		job: T[K]["job"],
		context: JobContext<T[K]["progress"]>,
	) => T[K]["result"] | Promise<T[K]["result"]>;
};

export function crossError(error: unknown): CrossedError {
	if (error instanceof Error)
		return { name: error.name, message: error.message, stack: error.stack ?? error.message };
	return { name: "Error", message: String(error), stack: String(error) };
}

/** The error as the other side threw it. */
export function landError(crossed: CrossedError): Error {
	const error = new Error(crossed.message);
	error.name = crossed.name;
	error.stack = crossed.stack;
	return error;
}
