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
	/** What holds is not just nothing, such as no turn: it is said, and can be had back. */
	readonly isAssumable?: boolean;
	/** Of a single value: in place of writing it at its path. */
	readonly write?: (value: unknown) => void;
}

/** One value of an entry of a list. */
export function EntryFieldEditor({ base, field, now = null, isAssumable = false, write }: Props) {
	const { key, label, of, about = "", parts, more = [], otherwise = "" } = field;
	const path = `${base}.${key}`;
	if (!parts)
		return (
			<TypedField
				path={path}
				label={label}
				reader={readerOf(of)}
				about={about}
				otherwise={otherwise}
				{...(write ? { write } : {})}
			/>
		);
	const plain = now !== null && !isAssumable;
	return (
		<VectorField
			path={path}
			label={label}
			of={of}
			parts={parts}
			more={more}
			now={now}
			about={about}
			plain={plain}
		/>
	);
}
