import type { ComponentChildren } from "preact";
import { Exact } from "./exact.tsx";

interface DataColumn {
	readonly title: string;
	readonly unit?: string;
	/** Numbers stand at the right. */
	readonly number?: boolean;
}

export interface DataCell {
	readonly text: string;
	/** Drawn in place of the text, which is what is copied. */
	readonly shown?: ComponentChildren;
	/** The number with all its figures: what is copied as CSV. */
	readonly exact?: number | null;
	/** Told by a mark and a word, not by colour alone. */
	readonly mark?: "best" | "fails";
}

export interface DataTableProps {
	readonly caption: string;
	readonly columns: readonly DataColumn[];
	readonly rows: readonly (readonly (string | DataCell)[])[];
	/** So that a picture can point to it. */
	readonly id?: string;
}

const cellOf = (cell: string | DataCell): DataCell => (typeof cell === "string" ? { text: cell } : cell);

/** A table that can be copied as CSV or Markdown. */
export function DataTable({ caption, columns, rows, id }: DataTableProps) {
	const titles = columns.map((column) => (column.unit ? `${column.title}, ${column.unit}` : column.title));
	const texts = rows.map((row) => row.map((cell) => cellOf(cell).text));
	const figures = rows.map((row) => row.map((cell) => String(cellOf(cell).exact ?? cellOf(cell).text)));
	return (
		<figure class="table" id={id}>
			{/* biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reachable by keyboard */}
			<section class="scroll" tabIndex={0} aria-label={caption}>
				<table>
					<caption>{caption}</caption>
					<thead>
						<tr>
							{columns.map((column, i) => (
								<th key={`${i} ${titles[i]}`} scope="col" class={column.number ? "number" : undefined}>
									{column.title}
									{column.unit ? <small>{column.unit}</small> : null}
								</th>
							))}
						</tr>
					</thead>
					<tbody>
						{rows.map((row, r) => (
							<tr key={`${r} ${cellOf(row[0] ?? "").text}`}>
								{row.map((each, i) => {
									const cell = cellOf(each);
									const content = (
										<>
											<Exact value={cell.exact ?? null}>{cell.shown ?? cell.text}</Exact>
											{cell.mark ? <span class={`mark ${cell.mark}`}>{cell.mark}</span> : null}
										</>
									);
									return i === 0 ? (
										<th scope="row" key={`${i} ${titles[i]}`}>
											{content}
										</th>
									) : (
										<td key={`${i} ${titles[i]}`} class={columns[i]?.number ? "number" : undefined}>
											{content}
										</td>
									);
								})}
							</tr>
						))}
					</tbody>
				</table>
			</section>
			<figcaption class="row small">
				<button type="button" class="plain" onClick={() => copy(csvText(titles, figures))}>
					Copy as CSV
				</button>
				<button type="button" class="plain" onClick={() => copy(markdownText(titles, texts))}>
					Copy as Markdown
				</button>
			</figcaption>
		</figure>
	);
}

function copy(text: string): void {
	void navigator.clipboard?.writeText(text);
}

/** RFC 4180. */
export function csvText(titles: readonly string[], rows: readonly (readonly string[])[]): string {
	const quoted = (text: string): string => (/[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);
	return `${[titles, ...rows].map((row) => row.map(quoted).join(",")).join("\r\n")}\r\n`;
}

export function markdownText(titles: readonly string[], rows: readonly (readonly string[])[]): string {
	const line = (cells: readonly string[]): string =>
		`| ${cells.map((cell) => cell.replaceAll("|", "\\|").replaceAll("\n", " ")).join(" | ")} |`;
	return `${[line(titles), line(titles.map(() => "---")), ...rows.map(line)].join("\n")}\n`;
}
