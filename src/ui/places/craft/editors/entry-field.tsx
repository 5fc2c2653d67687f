import { TypedField } from "../../../widgets/typed-field.tsx";
import type { EntryField } from "../part-fields.ts";
import { readerOf } from "./reader-of.ts";
import { VectorField } from "./vector-field.tsx";

interface Props {
	/** Of the entry, such as 'craft.parts[2]'. */
	readonly base: string;
	readonly field: EntryField;
	/** Of a triple: what holds while nothing is written; null: it must be written. */
	readonly now?: readonly number[] | null;
}

/** One value of an entry of a list. */
export function EntryFieldEditor({ base, field, now = null }: Props) {
	const { key, label, of, about = "", parts, otherwise = "" } = field;
	const path = `${base}.${key}`;
	return parts ? (
		<VectorField
			path={path}
			label={label}
			of={of}
			parts={parts}
			now={now}
			about={about}
			plain={now !== null}
		/>
	) : (
		<TypedField path={path} label={label} reader={readerOf(of)} about={about} otherwise={otherwise} />
	);
}
