import { useSignalEffect } from "@preact/signals";
import { gainSetDocument } from "../../scenario/gain-set-document.ts";
import { putSet } from "../commands/rack.ts";
import { useAnswer } from "../engine/answers.ts";
import { amend, scenario, scenarioText, state } from "../state/store.ts";
import { say } from "./notice.tsx";

/** Crafts that were given theirs: who empties the rack wants it empty. */
const served = new Set<string>();

/** A rack without a gain set gets starting gains of an even character, so that there is something to fly at once. */
export function FirstGains() {
	const craft = () => JSON.stringify(state.value.document["craft"]);
	const empty = () => scenario.value.gainSets.length === 0 && !served.has(craft());
	const answer = useAnswer("tune", () =>
		empty() ? { text: scenarioText.value, character: "even", alternatives: false } : null,
	);
	useSignalEffect(() => {
		const { value, fresh, error } = answer.value;
		if (!fresh || !empty()) return;
		if (error) say(`No starting gains: ${error}`);
		else if (value?.gainSet) {
			const set = gainSetDocument({ ...value.gainSet, name: "A" }, "Starting gains, character even.");
			served.add(craft());
			amend(putSet({ ...set, name: "A" }));
			say("Starting gains of an even character stand in the rack as set A; under Gains is why those.");
		} else if (value) say("No starting gains keep the limits of an even character: under Gains is why.");
	});
	return empty() && !answer.value.fresh ? (
		<p class="quiet working" role="status">
			Finding starting gains for this craft.
		</p>
	) : null;
}
