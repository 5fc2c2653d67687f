import { stepPicture } from "../../pictures/flight-pictures.ts";
import { namedSet } from "../../pictures/letters.ts";
import { useAnswer } from "../engine/answers.ts";
import { chosenDrill, chosenPoint, chosenSet } from "../state/chosen.ts";
import { scenario, scenarioText, state } from "../state/store.ts";
import { PictureView } from "./picture-view.tsx";

/** The drill flown with the set worked on: asked and done, one axis. */
export function FlownStep() {
	const answer = useAnswer("flight", () =>
		chosenSet.value === "" || chosenDrill.value === ""
			? null
			: {
					text: scenarioText.value,
					point: chosenPoint.value,
					set: chosenSet.value,
					drill: chosenDrill.value,
				},
	);
	const { value, fresh, error } = answer.value;
	const flight = value?.flight;
	const { gainSets, craft } = scenario.value;
	const set = gainSets.find((each) => each.name === chosenSet.value);
	return (
		<section class="sheet" aria-label="Flown">
			{error ? <p class="stop">{error}</p> : null}
			{flight && set ? (
				<PictureView
					stale={!fresh}
					picture={stepPicture(
						{
							title: `Drill '${chosenDrill.value}'`,
							note: `operating point ${chosenPoint.value}`,
							invented: craft.invented,
						},
						state.value.view.axis,
						[{ ...namedSet(set, gainSets), flight }],
					)}
				/>
			) : (
				<p class="quiet">{chosenSet.value ? "Flying." : "No gain set yet."}</p>
			)}
		</section>
	);
}
