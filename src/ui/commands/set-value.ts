import { withValue } from "../../scenario/load.ts";
import type { Command, ScenarioDocument } from "../state/model.ts";

/** Writes one value of the document, as typed; `undefined` takes it out, so that its default holds again. */
export function setValue(path: string, value: unknown, name = path, joins?: string): Command {
	return {
		name,
		...(joins === undefined ? {} : { joins }),
		apply(state) {
			const document = withValue(state.document, path, value) as ScenarioDocument;
			return { ...state, document };
		},
	};
}
