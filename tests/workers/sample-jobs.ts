/** Jobs for the pool's own tests. */
export type SampleJobs = {
	readonly double: { readonly job: number; readonly progress: never; readonly result: number };
	readonly count: { readonly job: number; readonly progress: number; readonly result: number };
	/** So many beats, each `ms` apart. */
	readonly beat: {
		readonly job: { readonly beats: number; readonly ms: number };
		readonly progress: number;
		readonly result: string;
	};
	readonly fail: { readonly job: string; readonly progress: never; readonly result: never };
	/** Kills its own worker, the first `times` times (counted in a file), then answers. */
	readonly die: {
		readonly job: { readonly tally: string; readonly times: number };
		readonly progress: never;
		readonly result: string;
	};
	readonly throwLater: { readonly job: null; readonly progress: never; readonly result: never };
	/** Falls silent. */
	readonly hang: { readonly job: null; readonly progress: never; readonly result: never };
	/** Blocks its thread for so many ms, without letting messages in. */
	readonly block: { readonly job: number; readonly progress: never; readonly result: string };
	readonly thread: { readonly job: null; readonly progress: never; readonly result: number };
	readonly unsendable: { readonly job: null; readonly progress: never; readonly result: unknown };
};
