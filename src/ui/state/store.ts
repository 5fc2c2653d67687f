import { computed, signal } from "@preact/signals";
import sandpiper from "../../../scenarios/sandpiper.json";
import { loadDocument } from "../../scenario/load.ts";
import type { Scenario, ScenarioError } from "../../scenario/model.ts";
import { begin, type History, perform, redo, undo } from "./history.ts";
import type { Command, PageState, ScenarioDocument, View } from "./model.ts";

export const DEMO: ScenarioDocument = sandpiper;

export const FIRST_VIEW: View = {
	place: "craft",
	set: "",
	shown: [],
	base: "",
	point: "",
	drill: "",
	axis: "roll",
	proofOpen: false,
};

const history = signal<History>(begin({ document: DEMO, view: FIRST_VIEW }));

/** The page's state; change it with `run`. */
export const state = computed<PageState>(() => history.value.present);
export const undoName = computed(() => history.value.past.at(-1)?.name ?? null);
export const redoName = computed(() => history.value.future.at(-1)?.name ?? null);

export function run(command: Command): void {
	history.value = perform(history.value, command);
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

/** The document read; while it has errors, the last one that had none. */
let lastGood: Scenario | null = null;
export const scenario = computed<Scenario>(() => {
	if (loaded.value.ok) lastGood = loaded.value.scenario;
	if (lastGood === null) throw new RangeError("the page began with a scenario that cannot be read");
	return lastGood;
});

/** The last good document as text, for the workers. */
export const scenarioText = computed(() => JSON.stringify(scenario.value.document));
