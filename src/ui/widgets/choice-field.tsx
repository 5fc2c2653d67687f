import { useId } from "preact/hooks";
import { parsePath, valueAt } from "../../scenario/path.ts";
import { setValue } from "../commands/set-value.ts";
import { fieldNotes } from "../state/field-notes.ts";
import { run, state } from "../state/store.ts";

export interface ChoiceFieldProps {
	readonly path: string;
	readonly label: string;
	/** In the words of the document. */
	readonly options: readonly string[];
	/** Where an assumed value stands in the notes, if not at the path itself. */
	readonly assumedAt?: string;
}

/** One of a few words of the document; 'as assumed' takes it out, so that its default holds. */
export function ChoiceField({ path, label, options, assumedAt = path }: ChoiceFieldProps) {
	const id = useId();
	const given = valueAt(state.value.document, parsePath(path));
	const { assumed, error } = fieldNotes(assumedAt);
	return (
		<div class={`field${given === undefined ? " assumed" : ""}`}>
			<label for={id}>{label}</label>
			<select
				id={id}
				value={typeof given === "string" ? given : ""}
				onChange={(event) => {
					const chosen = event.currentTarget.value;
					run(setValue(path, chosen === "" ? undefined : chosen, label));
				}}
			>
				<option value="">as assumed</option>
				{options.map((option) => (
					<option key={option}>{option}</option>
				))}
			</select>
			<div class="note">
				{error ? <p class="stop">{error.message}</p> : null}
				{given === undefined && assumed ? (
					<details>
						<summary>assumed</summary>
						<p>
							{assumed.value}: {assumed.because}. Source: {assumed.source}. To measure: {assumed.measure}.
						</p>
					</details>
				) : null}
			</div>
		</div>
	);
}
