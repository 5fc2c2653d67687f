import { computed } from "@preact/signals";
import type { Assumption } from "../../craft/model.ts";
import type { ScenarioError } from "../../scenario/model.ts";
import { errors, scenario } from "./store.ts";

/** What there is to say about one path of the document. */
export interface FieldNotes {
	readonly assumed: Assumption | null;
	readonly odd: readonly string[];
	readonly error: ScenarioError | null;
}

const assumedBy = computed(() => new Map(scenario.value.assumed.map((each) => [each.path, each])));

/** @param assumedAt where its assumption stands, if not at the path itself. */
export function fieldNotes(path: string, assumedAt = path): FieldNotes {
	return {
		assumed: assumedBy.value.get(assumedAt) ?? null,
		odd: scenario.value.warnings.filter((each) => each.path === path).map((each) => each.sentence),
		error: errors.value.find((each) => each.path === path) ?? null,
	};
}
