import type { ComponentChildren } from "preact";
import { useId, useState } from "preact/hooks";
import { parsePath, valueAt } from "../../../../scenario/path.ts";
import { setComponent } from "../../../commands/set-component.ts";
import { setValue } from "../../../commands/set-value.ts";
import { unitOf } from "../../../entry/typed.ts";
import { fieldNotes } from "../../../state/field-notes.ts";
import { run, state } from "../../../state/store.ts";
import type { Column } from "../craft-field.ts";
import { readerOf } from "./reader-of.ts";
import { TableCell } from "./table-cell.tsx";

interface TableRow {
	readonly name: string;
	readonly path: string;
}

interface TableFieldProps {
	/** Of the whole list. */
	readonly path: string;
	readonly label: string;
	readonly about?: string;
	readonly columns: readonly Column[];
	readonly rows: readonly TableRow[];
	/** What one row is, such as 'foot'. */
	readonly row: string;
	/** Left out where rows cannot be taken out; the reason where this one cannot. */
	readonly remove?: { readonly run: (index: number) => void; readonly least: number };
	/** Several cells at once, as a spreadsheet copies them. */
	readonly onPaste?: (text: string) => void;
	/** Buttons below. */
	readonly children?: ComponentChildren;
}

/** A list of rows of the same numbers, each cell typed with its unit; what is wrong with a cell is said below, by row and column. */
export function TableField({
	path,
	label,
	about,
	columns,
	rows,
	row,
	remove,
	onPaste,
	children,
}: TableFieldProps) {
	const id = useId();
	const [refusals, setRefusals] = useState<Readonly<Record<string, string>>>({});
	const { document } = state.value;
	const cellPath = (at: TableRow, { key }: Column): string =>
		typeof key === "number" ? `${at.path}[${key}]` : `${at.path}.${key}`;
	const cells = rows.map((at) =>
		columns.map((column) => {
			const place = cellPath(at, column);
			const { error } = fieldNotes(place);
			return {
				place,
				value: valueAt(document, parsePath(place)),
				said: refusals[place] || error?.message || "",
			};
		}),
	);
	const whole = [fieldNotes(path), ...rows.map((at) => fieldNotes(at.path))];
	const likes = columns.map((column, k) =>
		likeOf(
			column,
			cells.map((each) => each[k]!.value),
		),
	);
	return (
		<figure class="table-field">
			{/* biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reachable by keyboard */}
			<section class="scroll" tabIndex={0} aria-label={label}>
				<table
					onPaste={(event) => {
						const text = event.clipboardData?.getData("text/plain") ?? "";
						if (!onPaste || !/[\t\n]/.test(text.trim())) return;
						event.preventDefault();
						onPaste(text);
					}}
				>
					<caption>{label}</caption>
					<thead>
						<tr>
							<th scope="col">{row}</th>
							{columns.map((column) => (
								<th scope="col" key={column.key}>
									{column.label}
								</th>
							))}
							{remove ? <td /> : null}
						</tr>
					</thead>
					<tbody>
						{rows.map((at, i) => (
							<tr key={at.path}>
								<th scope="row">{at.name}</th>
								{columns.map((column, k) => {
									const { place, value, said } = cells[i]![k]!;
									return (
										<td key={column.key}>
											<TableCell
												path={place}
												name={`${column.label}, ${row === at.name ? "" : `${row} `}${at.name}`}
												column={column}
												value={value}
												like={likes[k]!}
												wrong={said !== ""}
												describedBy={said === "" ? undefined : `${id}${i}.${k}`}
												onRefused={(message) => {
													if ((refusals[place] ?? "") !== message)
														setRefusals((all) => ({ ...all, [place]: message }));
												}}
												write={(to, joins) => {
													const name = `${column.label} of ${row} ${at.name}`;
													run(
														typeof column.key === "number"
															? setComponent(
																	at.path,
																	column.key,
																	to,
																	columns.map(() => 0),
																	name,
																	joins,
																)
															: setValue(place, to, name, joins),
													);
												}}
											/>
										</td>
									);
								})}
								{remove ? (
									<td>
										<button
											type="button"
											class="plain"
											disabled={rows.length <= remove.least}
											aria-label={`Take out ${row} ${at.name}`}
											onClick={() => remove.run(i)}
										>
											Take out
										</button>
									</td>
								) : null}
							</tr>
						))}
					</tbody>
				</table>
			</section>
			<figcaption>
				{about ? <p class="quiet small">{about}</p> : null}
				<ul class="said" aria-live="polite">
					{cells.flatMap((each, i) =>
						each.map(({ said, place }, k) =>
							said ? (
								<li key={place} id={`${id}${i}.${k}`} class="stop">
									{row} {rows[i]!.name}, {columns[k]!.label}: {said}
								</li>
							) : null,
						),
					)}
					{whole.map(({ error }) =>
						error ? (
							<li key={error.path} class="stop">
								{error.message}
							</li>
						) : null,
					)}
					{whole[0]?.assumed ? (
						<li class="quiet">
							Assumed: {whole[0].assumed.value}, because {whole[0].assumed.because}. Source:{" "}
							{whole[0].assumed.source}. To measure: {whole[0].assumed.measure}.
						</li>
					) : null}
					{whole.flatMap(({ odd }) =>
						odd.map((sentence) => (
							<li key={sentence} class="care">
								{sentence}
							</li>
						)),
					)}
				</ul>
				<div class="row small">{children}</div>
			</figcaption>
		</figure>
	);
}

/** A cell of the column whose unit a bare number, or a plain 0, beside it takes. */
function likeOf({ of }: Column, values: readonly unknown[]): string {
	if (of === "yes or no") return "";
	const reader = readerOf(of);
	const texts = values.filter((each) => each !== 0).map((each) => reader.show(each));
	return texts.find((text) => unitOf(text) !== "") ?? (of === "length" ? "0 mm" : "");
}
