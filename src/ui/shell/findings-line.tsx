import { lookAt } from "../commands/look-at.ts";
import { useAnswer } from "../engine/answers.ts";
import { chosenPoint, chosenSet } from "../state/chosen.ts";
import { moving, restingText } from "../state/moving.ts";
import { errors, run, scenario } from "../state/store.ts";
import { PointControls } from "./point-controls.tsx";

/** One sentence: is this craft with the selected gains, at this operating point, fit to hover, and what is its weakest number. */
export function FindingsLine() {
	const answer = useAnswer("report", () => ({
		text: restingText.value,
		point: chosenPoint.value,
		set: chosenSet.value || null,
	}));
	const { value, fresh, error } = answer.value;
	const verdict = value?.report.verdict;
	return (
		<section class="findings" aria-label="Findings" aria-busy={!fresh || moving.value}>
			<p class={verdict?.level ?? "waiting"} aria-live="polite">
				{error || verdict?.sentence || "Working it out."}
			</p>
			{errors.value.length > 0 ? (
				<p class="stop small unread-line">
					Not taken up yet: {errors.value[0]!.path || "the file"}
					{errors.value.length > 1 ? ` and ${errors.value.length - 1} more` : ""}. All numbers are those of
					before.
				</p>
			) : null}
			<label>
				Operating point{" "}
				<select
					value={chosenPoint.value}
					onChange={(event) => run(lookAt({ point: event.currentTarget.value }))}
				>
					{scenario.value.operatingPoints.map(({ name }) => (
						<option key={name}>{name}</option>
					))}
				</select>
			</label>
			<PointControls />
		</section>
	);
}
