import { type ReadonlySignal, signal, useSignalEffect } from "@preact/signals";
import { useState } from "preact/hooks";
import { JobCancelled } from "../../../../../workers/pool.ts";
import { longWork } from "../../../engine/long-work.ts";
import { useQuestion } from "../../../engine/question.ts";
import { pointerHeld } from "../../../state/held.ts";
import { fillPlane, type PlaneQuestion } from "./fill.ts";

/** A plane as far as it is worked out. */
export interface Fill {
	readonly question: PlaneQuestion | null;
	/** Of the finest grid, row by row; filled in place, `version` counts. */
	readonly cells: readonly (readonly (number | null)[] | undefined)[];
	readonly version: number;
	readonly finest: number;
	/** Cells a side of the finest grid that is complete; 0: none yet. */
	readonly complete: number;
	readonly done: number;
	readonly state: "waiting" | "running" | "complete" | "cancelled" | "failed";
	/** Why cells have no answer, the last that said so; or why it failed. */
	readonly why: string;
	readonly tookMs: number;
	readonly firstPassMs: number;
}

const EMPTY: Fill = {
	question: null,
	cells: [],
	version: 0,
	finest: 0,
	complete: 0,
	done: 0,
	state: "waiting",
	why: "",
	tookMs: 0,
	firstPassMs: 0,
};

/** How often a filling plane is drawn anew. */
const REDRAW_MS = 700;

/** The plane of a question that changes with the page: cancelled and begun anew at once when it does; partial results stay. */
export function usePlane(question: () => PlaneQuestion | null): {
	readonly fill: ReadonlySignal<Fill>;
	readonly cancel: () => void;
	readonly resume: () => void;
} {
	const [self] = useState(() => ({
		fill: signal<Fill>(EMPTY),
		again: signal(0),
		stop: new AbortController(),
	}));
	const asked = useQuestion(question);
	useSignalEffect(() => {
		const found = asked.value;
		void self.again.value;
		if (!found) {
			self.fill.value = EMPTY;
			return undefined;
		}
		const stop = new AbortController();
		self.stop = stop;
		let replaced = false;
		// The plane before stays in sight until this one has something to show.
		self.fill.value = { ...self.fill.peek(), state: "waiting" };
		let begun = false;
		// While something is dragged the processors belong to the curves that follow it: begun as soon as it is let go.
		const off = pointerHeld.subscribe((held) => {
			if (held || begun) return;
			begun = true;
			void run(found, stop.signal, (fill) => {
				if (!replaced) self.fill.value = fill;
			});
		});
		return () => {
			off();
			replaced = true;
			stop.abort();
		};
	});
	return {
		fill: self.fill,
		cancel: () => self.stop.abort(),
		resume: () => {
			self.again.value++;
		},
	};
}

async function run(question: PlaneQuestion, stop: AbortSignal, put: (fill: Fill) => void): Promise<void> {
	const finest = question.passes[question.passes.length - 1]!;
	const cells = new Array<readonly (number | null)[] | undefined>(finest * finest).fill(undefined);
	const began = performance.now();
	let now: Fill = { ...EMPTY, question, cells, finest, state: "running" };
	let timer: ReturnType<typeof setTimeout> | null = null;
	const show = (): void => {
		if (timer) clearTimeout(timer);
		timer = null;
		put(now);
	};
	const change = (to: Partial<Fill>): void => {
		now = { ...now, ...to, version: now.version + 1, tookMs: performance.now() - began };
	};
	try {
		await fillPlane(longWork(), question, {
			signal: stop,
			onCells(found) {
				let { why, done } = now;
				for (const cell of found) {
					if (!cells[cell.index]) done++;
					cells[cell.index] = cell.numbers;
					if (cell.why) why = cell.why;
				}
				change({ done, why });
				timer ??= setTimeout(show, REDRAW_MS);
			},
			onPass(complete) {
				const firstPassMs = now.firstPassMs || performance.now() - began;
				change({ complete, firstPassMs, ...(complete === finest ? { state: "complete" } : {}) });
				show();
			},
		});
		if (stop.aborted) change({ state: "cancelled" });
	} catch (error) {
		if (error instanceof JobCancelled) change({ state: "cancelled" });
		else change({ state: "failed", why: error instanceof Error ? error.message : String(error) });
	}
	show();
}
