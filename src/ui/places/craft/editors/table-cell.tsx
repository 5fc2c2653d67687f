import { useEffect } from "preact/hooks";
import { useTyped } from "../../../widgets/use-typed.ts";
import type { Column } from "../craft-field.ts";
import { readerOf } from "./reader-of.ts";

interface TableCellProps {
	readonly path: string;
	/** As a screen reader says it. */
	readonly name: string;
	readonly column: Column;
	readonly value: unknown;
	readonly like: string;
	readonly wrong: boolean;
	readonly describedBy: string | undefined;
	readonly onRefused: (message: string) => void;
	readonly write: (value: unknown, joins?: string) => void;
}

export function TableCell(props: TableCellProps) {
	return props.column.of === "yes or no" ? <YesNoCell {...props} /> : <NumberCell {...props} />;
}

function NumberCell({
	path,
	name,
	column,
	value,
	like,
	wrong,
	describedBy,
	onRefused,
	write,
}: TableCellProps) {
	const reader = readerOf(column.of as Exclude<Column["of"], "yes or no">);
	// A nought that no unit stands beside says none: a bare number typed over it must.
	const shown = value === 0 && like === "" ? "0" : reader.show(value, like);
	const { refused, input } = useTyped({ key: path, reader, shown, like, write });
	useEffect(() => onRefused(refused), [refused]);
	return (
		<input
			{...input}
			aria-label={name}
			aria-invalid={wrong}
			aria-describedby={describedBy}
			placeholder={column.optional ? "\u2013" : ""}
		/>
	);
}

function YesNoCell({ name, value, write }: TableCellProps) {
	return (
		<input
			type="checkbox"
			aria-label={name}
			checked={value === true}
			onChange={(event) => write(event.currentTarget.checked ? true : undefined)}
		/>
	);
}
