import { FIRST_VIEW } from "../state/first-view.ts";
import type { Command, ScenarioDocument } from "../state/model.ts";

/** Another scenario in the place of this one: a step that undo takes back. */
export function openDocument(document: ScenarioDocument, from: string): Command {
	return {
		name: `open ${from}`,
		apply: (state) => ({ document, view: { ...FIRST_VIEW, place: state.view.place } }),
	};
}
