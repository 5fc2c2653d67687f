import { computed, signal } from "@preact/signals";
import sandpiper from "../../../scenarios/sandpiper.json";
import { loadDocument } from "../../scenario/load.ts";
import type { Scenario, ScenarioError } from "../../scenario/model.ts";
import { FIRST_VIEW } from "./first-view.ts";
import { begin, type History, perform, redo, undo } from "./history.ts";
import type { Command, PageState, ScenarioDocument } from "./model.ts";

export const DEMO: ScenarioDocument = sandpiper;

const history = signal<History>(begin({ document: DEMO, view: FIRST_VIEW }));

/** The page's state; change it with `run`. */
export const state = computed<PageState>(() => history.value.present);
export const undoName = computed(() => history.value.past.at(-1)?.name ?? null);
export const redoName = computed(() => history.value.future.at(-1)?.name ?? null);

/** Why the last command could not be done; empty after one that could. */
export const refusal = signal("");

export function run(command: Command): void {
	try {
		history.value = perform(history.value, command);
		refusal.value = "";
	} catch (error) {
		if (!(error instanceof RangeError)) throw error;
		refusal.value = error.message;
	}
}

/** What belongs to the last command though it came later, such as gains found for a new craft: no step of its own. */
export function amend(command: Command): void {
	const { present } = history.value;
	history.value = { ...history.value, present: command.apply(present) };
}

export function undoLast(): void {
	history.value = undo(history.value);
}

export function redoNext(): void {
	history.value = redo(history.value);
}

/** Another state altogether, as found at the start of the page: no step of undo. */
export function restart(present: PageState): void {
	history.value = begin(present);
}

const loaded = computed(() => loadDocument(state.value.document));

/** What is wrong with the document; empty while all is well. */
export const errors = computed<readonly ScenarioError[]>(() => (loaded.value.ok ? [] : loaded.value.errors));

function mustLoad(document: ScenarioDocument): Scenario {
	const result = loadDocument(document);
	if (!result.ok) throw new RangeError(`the demo cannot be read: ${result.errors[0]?.message}`);
	return result.scenario;
}

/** The document read; while it has errors, the last one that had none. */
let lastGood = mustLoad(DEMO);
export const scenario = computed<Scenario>(() => {
	if (loaded.value.ok) lastGood = loaded.value.scenario;
	return lastGood;
});

/** The last good document as text, for the workers. */
export const scenarioText = computed(() => JSON.stringify(scenario.value.document));
