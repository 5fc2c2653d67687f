import { useId, useState } from "preact/hooks";
import { parsePath, valueAt } from "../../../../scenario/path.ts";
import { setValue } from "../../../commands/set-value.ts";
import { fieldNotes } from "../../../state/field-notes.ts";
import { run, state } from "../../../state/store.ts";

/** Free text of several lines. */
export function LongTextField({ path, label }: { readonly path: string; readonly label: string }) {
	const id = useId();
	const [typing, setTyping] = useState<string | null>(null);
	const given = valueAt(state.value.document, parsePath(path));
	const shown = typeof given === "string" ? given : "";
	const { error } = fieldNotes(path);
	return (
		<div class={`field long${error ? " wrong" : ""}`}>
			<label for={id}>{label}</label>
			<textarea
				id={id}
				rows={2}
				value={typing ?? shown}
				aria-invalid={error !== null}
				aria-describedby={`${id}note`}
				onInput={(event) => setTyping(event.currentTarget.value)}
				onBlur={() => {
					if (typing !== null && typing !== shown)
						run(setValue(path, typing.trim() === "" ? undefined : typing, label));
					setTyping(null);
				}}
			/>
			<p id={`${id}note`} class="note stop">
				{error?.message}
			</p>
		</div>
	);
}
