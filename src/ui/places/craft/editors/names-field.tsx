import { useId } from "preact/hooks";
import { parsePath, valueAt } from "../../../../scenario/path.ts";
import { setValue } from "../../../commands/set-value.ts";
import { fieldNotes } from "../../../state/field-notes.ts";
import { run, state } from "../../../state/store.ts";

interface Props {
	readonly path: string;
	readonly label: string;
	/** What there is to choose from. */
	readonly names: readonly string[];
}

/** A list of names of other things of the craft. One that is gone stays in sight until it is taken out. */
export function NamesField({ path, label, names }: Props) {
	const id = useId();
	const given = valueAt(state.value.document, parsePath(path));
	const chosen = (Array.isArray(given) ? given : []) as readonly string[];
	const { error } = fieldNotes(path);
	const all = [...names, ...chosen.filter((each) => !names.includes(each))];
	return (
		<fieldset class={`field names${error ? " wrong" : ""}`} aria-describedby={`${id}note`}>
			<legend>{label}</legend>
			<div class="choices">
				{all.map((name) => (
					<label key={name} class="small">
						<input
							type="checkbox"
							checked={chosen.includes(name)}
							onChange={(event) =>
								run(
									setValue(
										path,
										event.currentTarget.checked ? [...chosen, name] : chosen.filter((each) => each !== name),
										label,
									),
								)
							}
						/>{" "}
						{name}
					</label>
				))}
			</div>
			<p id={`${id}note`} class="note stop">
				{error?.message}
			</p>
		</fieldset>
	);
}
