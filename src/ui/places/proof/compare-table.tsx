import type { CompareRow } from "../../../report/compare-rows.ts";
import { type DataCell, DataTable } from "../../widgets/data-table.tsx";

export interface CompareTableProps {
	readonly caption: string;
	/** In the order of the cells. */
	readonly names: readonly string[];
	/** Differences are taken from it. */
	readonly base: string;
	readonly rows: readonly CompareRow[];
}

/** Numbers side by side, with differences, the best and the failing marked. */
export function CompareTable({ caption, names, base, rows }: CompareTableProps) {
	return (
		<DataTable
			caption={caption}
			columns={[{ title: "what" }, { title: "unit" }, ...names.map((title) => ({ title, number: true }))]}
			rows={rows.map((row) => [
				row.what,
				row.unit,
				...row.cells.map((cell): DataCell => {
					if (cell.value === null) return { text: "-", ...(cell.fails ? { mark: "fails" as const } : {}) };
					const value = plain(cell.value);
					const difference =
						cell.set === base || cell.difference === null
							? ""
							: ` (${cell.difference >= 0 ? "+" : "\u2212"}${plain(Math.abs(cell.difference))})`;
					const mark = cell.fails ? ("fails" as const) : cell.best ? ("best" as const) : undefined;
					return { text: value + difference, exact: cell.value, ...(mark ? { mark } : {}) };
				}),
			])}
		/>
	);
}

/** Three figures, no exponent. */
function plain(value: number): string {
	const size = Math.abs(value);
	const decimals = size === 0 ? 0 : Math.max(0, Math.min(3, 2 - Math.floor(Math.log10(size))));
	return value.toFixed(decimals);
}
