import type { Page } from "playwright-core";

interface TraceEvent {
	readonly name: string;
	readonly ph: string;
	readonly pid: number;
	readonly tid: number;
	/** Microseconds by the clock and of processor time. */
	readonly dur?: number;
	readonly tdur?: number;
	readonly args?: { readonly name?: string };
}

export interface MainThread {
	/** Processor time of every task, milliseconds: other work on the machine is not the page's. */
	readonly tasks: readonly number[];
	readonly longest: number;
	/** The longest by the clock, for the record: it also holds whatever else the machine did meanwhile. */
	readonly longestByClock: number;
}

/** What the page's own thread did while something went on, by Chromium's trace. */
export async function traceMainThread(page: Page, during: () => Promise<void>): Promise<MainThread> {
	const browser = page.context().browser()!;
	await browser.startTracing(page, { categories: ["toplevel", "disabled-by-default-devtools.timeline"] });
	await during();
	const { traceEvents } = JSON.parse((await browser.stopTracing()).toString()) as {
		readonly traceEvents: readonly TraceEvent[];
	};
	const mains = new Set(
		traceEvents
			.filter((each) => each.name === "thread_name" && each.args?.name === "CrRendererMain")
			.map((each) => `${each.pid} ${each.tid}`),
	);
	const found = traceEvents.filter(
		(each) => each.ph === "X" && /RunTask/.test(each.name) && mains.has(`${each.pid} ${each.tid}`),
	);
	const tasks = found.map((each) => (each.tdur ?? 0) / 1000);
	return {
		tasks,
		longest: Math.max(...tasks),
		longestByClock: Math.max(...found.map((each) => (each.dur ?? 0) / 1000)),
	};
}
