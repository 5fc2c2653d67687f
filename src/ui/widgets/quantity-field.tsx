import { useMemo } from "preact/hooks";
import type { KindName } from "../../units/kinds.ts";
import { quantityReader } from "../entry/readers.ts";
import { TypedField, type TypedFieldProps } from "./typed-field.tsx";

export interface QuantityFieldProps extends Omit<TypedFieldProps, "reader"> {
	readonly kind: KindName;
	/** What may stand there in place of a number, such as 'none'. */
	readonly word?: string;
}

/** A number of the document, typed with its unit, nudged with the arrow keys (shift: ten steps), or dragged at its label. */
export function QuantityField({ kind, word = "", ...field }: QuantityFieldProps) {
	const reader = useMemo(() => quantityReader(kind, word), [kind, word]);
	return <TypedField reader={reader} {...field} />;
}
