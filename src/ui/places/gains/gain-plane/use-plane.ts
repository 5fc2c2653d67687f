import { type ReadonlySignal, signal, useSignalEffect } from "@preact/signals";
import { useState } from "preact/hooks";
import { JobCancelled } from "../../../../../workers/pool.ts";
import { longWork } from "../../../engine/long-work.ts";
import { useQuestion } from "../../../engine/question.ts";
import { pointerHeld } from "../../../state/held.ts";
import { fillPlane, type PlaneQuestion, type PlaneStage } from "./fill.ts";

/** A plane as far as it is worked out. */
export interface Fill {
	readonly question: PlaneQuestion | null;
	/** What the cells are of: a later stage takes over once its first grid is complete. */
	readonly shows: PlaneStage["shows"];
	/** Of the finest grid, row by row; filled in place, `version` counts. */
	readonly cells: readonly (readonly (number | null)[] | undefined)[];
	readonly version: number;
	readonly finest: number;
	/** Cells a side of the finest grid that is complete; 0: none yet. */
	readonly complete: number;
	/** How many cells are known. */
	readonly known: number;
	/** Cells of the last stage worked out. */
	readonly done: number;
	readonly state: "waiting" | "running" | "complete" | "cancelled" | "failed";
	/** Why cells have no answer, the last that said so; or why it failed. */
	readonly why: string;
	readonly tookMs: number;
	readonly firstPassMs: number;
}

const EMPTY: Fill = {
	question: null,
	shows: "stands",
	cells: [],
	version: 0,
	finest: 0,
	complete: 0,
	known: 0,
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
		/** Finished cells of the question under way, by stage: a plane that was stopped goes on from them. */
		known: { question: null as PlaneQuestion | null, stages: new Map<PlaneStage["shows"], Cells>() },
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
			if (self.known.question !== found) self.known = { question: found, stages: new Map() };
			void run(found, self.known.stages, stop.signal, (fill) => {
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

/** Coarse grids that follow each other faster are not drawn one by one. */
const LEAST_REDRAW_MS = 150;

type Cells = (readonly (number | null)[] | undefined)[];

async function run(
	question: PlaneQuestion,
	before: Map<PlaneStage["shows"], Cells>,
	stop: AbortSignal,
	put: (fill: Fill) => void,
): Promise<void> {
	const finest = question.passes[question.passes.length - 1]!;
	const empty = (): Cells =>
		new Array<readonly (number | null)[] | undefined>(finest * finest).fill(undefined);
	const last = question.stages[question.stages.length - 1]!;
	/** Cells of the stage under way, shown or not yet. */
	let work = { stage: last, cells: empty(), known: 0, why: "" };
	const began = performance.now();
	let now: Fill = { ...EMPTY, question, cells: work.cells, finest, state: "running" };
	let drawn = Number.NEGATIVE_INFINITY;
	let timer: ReturnType<typeof setTimeout> | null = null;
	const show = (): void => {
		if (timer) clearTimeout(timer);
		timer = null;
		drawn = performance.now();
		put(now);
	};
	const showIn = (ms: number): void => {
		timer ??= setTimeout(show, ms);
	};
	const change = (to: Partial<Fill>): void => {
		now = { ...now, ...to, version: now.version + 1, tookMs: performance.now() - began };
	};
	const isShown = (): boolean => now.cells === work.cells;
	const workShown = (): Partial<Fill> =>
		isShown() ? { known: work.known, ...(work.why ? { why: work.why } : {}) } : {};
	try {
		await fillPlane(longWork(), question, {
			signal: stop,
			isKnown: (stage, index) => before.get(stage.shows)?.[index] !== undefined,
			onStage(stage) {
				const cells = before.get(stage.shows) ?? empty();
				before.set(stage.shows, cells);
				work = { stage, cells, known: cells.filter((cell) => cell !== undefined).length, why: "" };
				if (now.known === 0) change({ cells: work.cells, shows: stage.shows });
			},
			onCells(found) {
				for (const cell of found) {
					if (!work.cells[cell.index]) work.known++;
					work.cells[cell.index] = cell.numbers;
					// A completed flight may lack a number, too; that is not why it is not fine.
					if (cell.why && cell.numbers[0] !== 1) work.why = cell.why;
				}
				change({ ...workShown(), ...(work.stage === last ? { done: work.known } : {}) });
				showIn(REDRAW_MS);
			},
			onPass(complete) {
				const firstPassMs = now.firstPassMs || performance.now() - began;
				change({ cells: work.cells, shows: work.stage.shows });
				change({ ...workShown(), complete, firstPassMs });
				const whole = complete === finest;
				if (whole && work.stage === last) change({ state: "complete" });
				const wait = LEAST_REDRAW_MS - (performance.now() - drawn);
				if (whole || wait <= 0) show();
				else showIn(wait);
			},
		});
		if (stop.aborted) change({ state: "cancelled" });
	} catch (error) {
		if (error instanceof JobCancelled) change({ state: "cancelled" });
		else change({ state: "failed", why: error instanceof Error ? error.message : String(error) });
	}
	show();
}
