import { useId } from "preact/hooks";
import { parsePath, valueAt } from "../../scenario/path.ts";
import { setValue } from "../commands/set-value.ts";
import { fieldNotes } from "../state/field-notes.ts";
import { run, state } from "../state/store.ts";
import { FieldNote } from "./field-note.tsx";

export interface Choice {
	readonly label: string;
	/** As the document holds it. */
	readonly value: string | boolean;
}

export interface ChoiceFieldProps {
	readonly path: string;
	readonly label: string;
	/** In the words of the document, or in words for people. */
	readonly options: readonly (string | Choice)[];
	readonly about?: string;
	/** Where an assumed value stands in the notes, if not at the path itself. */
	readonly assumedAt?: string;
	/** What holds where nothing is written; empty: something must be. */
	readonly otherwise?: string;
	/** What is chosen, where the document does not hold it as such. */
	readonly chosen?: string | boolean | undefined;
	/** In place of writing the value at the path. */
	readonly write?: (value: string | boolean | undefined) => void;
}

/** One of a few values of the document; 'as assumed' takes it out, so that its default holds. */
export function ChoiceField({
	path,
	label,
	options,
	about = "",
	assumedAt = path,
	otherwise = "as assumed",
	write = (value) => run(setValue(path, value, label)),
	...own
}: ChoiceFieldProps) {
	const id = useId();
	const given = "chosen" in own ? own.chosen : valueAt(state.value.document, parsePath(path));
	const { assumed, error, odd } = fieldNotes(path, assumedAt);
	const choices = options.map((each) => (typeof each === "string" ? { label: each, value: each } : each));
	const at = choices.findIndex((each) => each.value === given);
	return (
		<div class={`field${given === undefined ? " assumed" : ""}${error ? " wrong" : ""}`}>
			<label for={id}>{label}</label>
			<select
				id={id}
				value={String(at)}
				aria-invalid={error !== null}
				aria-describedby={`${id}note`}
				onChange={(event) => write(choices[Number(event.currentTarget.value)]?.value)}
			>
				{otherwise !== "" || at < 0 ? <option value="-1">{otherwise || "choose"}</option> : null}
				{choices.map((choice, i) => (
					<option key={choice.label} value={String(i)}>
						{choice.label}
					</option>
				))}
			</select>
			<FieldNote
				id={`${id}note`}
				message={error?.message ?? ""}
				remark=""
				odd={odd}
				assumed={given === undefined ? assumed : null}
				about={about}
				sayValue
			/>
		</div>
	);
}
