import { useId } from "preact/hooks";
import { parsePath, valueAt } from "../../scenario/path.ts";
import { setValue } from "../commands/set-value.ts";
import type { Reader } from "../entry/readers.ts";
import { fieldNotes } from "../state/field-notes.ts";
import { run, state } from "../state/store.ts";
import { FieldNote } from "./field-note.tsx";
import { useTyped } from "./use-typed.ts";

export interface TypedFieldProps {
	/** Into the scenario document, such as 'craft.motors.lagUp'. */
	readonly path: string;
	readonly reader: Reader;
	readonly label: string;
	/** One sentence beside the value. */
	readonly about?: string;
	/** Where what is assumed stands in the notes, if not at the path itself: with its reason, but not as this field's value. */
	readonly assumedAt?: string;
	/** What holds while nothing is written, where it is no assumption worth a reason. */
	readonly otherwise?: string;
	/** Of the group it belongs to: what is wrong with that is said here too. */
	readonly groupPath?: string;
	/** In place of writing the value at the path. */
	readonly write?: (value: unknown, joins?: string) => void;
}

/** One value of the document. What was not given is shown as assumed, with its reason; emptied, it is assumed again. */
export function TypedField({
	path,
	reader,
	label,
	about = "",
	assumedAt = path,
	otherwise = "",
	groupPath = "",
	write = (value, joins) => run(setValue(path, value, label, joins)),
}: TypedFieldProps) {
	const id = useId();
	const given = valueAt(state.value.document, parsePath(path));
	const notes = fieldNotes(path, assumedAt);
	const isGiven = given !== undefined && given !== null;
	const assumed = isGiven ? null : notes.assumed;
	const own = assumedAt === path;
	const shown = isGiven ? reader.show(given) : own && assumed ? assumed.value : "";
	const { refused, remark, input, handle } = useTyped({
		key: path,
		reader,
		shown,
		like: otherwise,
		write,
	});
	const group = groupPath === "" ? null : fieldNotes(groupPath).error;
	const message = refused || notes.error?.message || group?.message || "";
	return (
		<div class={`field${assumed && own ? " assumed" : ""}${message ? " wrong" : ""}`}>
			<label for={id} {...handle}>
				{label}
			</label>
			<input
				id={id}
				{...input}
				placeholder={otherwise}
				aria-invalid={message !== ""}
				aria-describedby={`${id}note`}
			/>
			<FieldNote
				id={`${id}note`}
				message={message}
				remark={remark}
				odd={notes.odd}
				assumed={assumed}
				about={about}
				sayValue={!own}
			/>
		</div>
	);
}
