import type { Command, PageState } from "./model.ts";

interface Step {
	readonly name: string;
	readonly joins: string | null;
	readonly state: PageState;
}

/** The present and what undo and redo lead to; plain data. */
export interface History {
	readonly present: PageState;
	/** What was there before each command, newest last. */
	readonly past: readonly Step[];
	readonly future: readonly Step[];
}

const DEPTH = 200;

export const begin = (present: PageState): History => ({ present, past: [], future: [] });

/** Looking elsewhere is not a step of undo: only a changed document is. */
export function perform(history: History, command: Command): History {
	const { present, past } = history;
	const next = command.apply(present);
	if (next === present) return history;
	if (next.document === present.document) return { ...history, present: next };
	const joins = command.joins ?? null;
	const last = past[past.length - 1];
	if (joins !== null && last?.joins === joins && history.future.length === 0)
		return { present: next, past, future: [] };
	const step: Step = { name: command.name, joins, state: present };
	return { present: next, past: [...past, step].slice(-DEPTH), future: [] };
}

export function undo(history: History): History {
	const last = history.past[history.past.length - 1];
	if (!last) return history;
	return {
		present: last.state,
		past: history.past.slice(0, -1),
		future: [...history.future, { ...last, joins: null, state: history.present }],
	};
}

export function redo(history: History): History {
	const next = history.future[history.future.length - 1];
	if (!next) return history;
	return {
		present: next.state,
		past: [...history.past, { ...next, state: history.present }],
		future: history.future.slice(0, -1),
	};
}
