import { loadDocument } from "../../../src/scenario/load.ts";
import type { Scenario } from "../../../src/scenario/model.ts";
import type { Command, PageState } from "../../../src/ui/state/model.ts";
import { DEMO_STATE } from "../sample.ts";

/** The demo after some commands. */
export const done = (...commands: readonly Command[]): PageState =>
	commands.reduce((state, command) => command.apply(state), DEMO_STATE);

export function readState(state: PageState): Scenario {
	const loaded = loadDocument(state.document);
	if (!loaded.ok) throw new Error(loaded.errors.map((each) => each.message).join("; "));
	return loaded.scenario;
}

/** Paths of what is wrong. */
export function wrongAt(state: PageState): string[] {
	const loaded = loadDocument(state.document);
	return loaded.ok ? [] : loaded.errors.map((each) => each.path);
}

type Group = Readonly<Record<string, unknown>>;

export const craftOf = (state: PageState) => state.document["craft"] as Group;
export const partsOf = (state: PageState) => craftOf(state)["parts"] as readonly Group[];
export const rotorsOf = (state: PageState) => craftOf(state)["rotors"] as readonly Group[];
