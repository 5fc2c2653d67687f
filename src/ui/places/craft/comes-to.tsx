import { useAnswer } from "../../engine/answers.ts";
import { chosenPoint, chosenSet } from "../../state/chosen.ts";
import { errors, scenario, scenarioText } from "../../state/store.ts";

/** In one line beside the fields, what the craft comes to as they stand. */
export function ComesTo() {
	const answer = useAnswer("report", () => ({
		text: scenarioText.value,
		point: chosenPoint.value,
		set: chosenSet.value || null,
	}));
	const { value, fresh } = answer.value;
	const { massKg, centreOfMassM } = scenario.value.craft.bare;
	const [x, y, z] = centreOfMassM.map((each) => (1000 * each).toFixed(1).replace("-", "\u2212"));
	const hover = value?.report.hover;
	const isNow = fresh && errors.value.length === 0;
	return (
		<dl class={isNow ? "comes-to" : "comes-to before"} aria-label="What it comes to" aria-busy={!fresh}>
			<div>
				<dt>mass</dt>
				<dd>{(1000 * massKg).toFixed(0)} g</dd>
			</div>
			<div>
				<dt>hover stick</dt>
				<dd>{hover ? `${(100 * hover.stick).toFixed(1)} %` : value ? "cannot hover" : "\u2026"}</dd>
			</div>
			<div>
				<dt>thrust to weight</dt>
				<dd>{hover ? hover.thrustToWeight.toFixed(2) : "\u2026"}</dd>
			</div>
			<div>
				<dt>centre of mass, mm forward, right, down</dt>
				<dd>
					{x}, {y}, {z}
				</dd>
			</div>
		</dl>
	);
}
