import pc from "picocolors";

export type Paint = Pick<ReturnType<typeof pc.createColors>, "bold" | "dim" | "red" | "green" | "yellow">;

export const paint = (colour: boolean): Paint => pc.createColors(colour);

export interface Column {
	readonly title: string;
	readonly align?: "left" | "right";
	/** Wraps the column's text into what is left of the line; at most one column, the last. */
	readonly wrap?: boolean;
}

/** A column of numbers. */
export const right = (title: string) => ({ title, align: "right" }) as const;

// biome-ignore lint/suspicious/noControlCharactersInRegex: colour codes start with one
const COLOUR_CODE = /\u001b\[[0-9;]*m/g;

const visible = (text: string): number => text.replace(COLOUR_CODE, "").length;

const pad = (text: string, width: number, align: Column["align"]): string => {
	const gap = " ".repeat(Math.max(0, width - visible(text)));
	return align === "right" ? gap + text : text + gap;
};

/** Words of `text` in lines of at most `width`; a longer word stands alone, and a number keeps its per cent. */
export function wrapWords(text: string, width: number): string[] {
	const lines: string[] = [];
	let line = "";
	for (const kept of text.replace(/(?<=\d) (?=%)/g, "\u00a0").split(" ")) {
		const word = kept.replace("\u00a0", " ");
		if (line !== "" && visible(line) + 1 + visible(word) > width) {
			lines.push(line);
			line = word;
		} else line = line === "" ? word : `${line} ${word}`;
	}
	return [...lines, line];
}

/** A paragraph, each line after `indent` spaces. */
export function paragraph(text: string, width: number, indent = 0): string {
	return wrapWords(text, width - indent)
		.map((line) => `${" ".repeat(indent)}${line}\n`)
		.join("");
}

/** Columns two spaces apart; trailing blanks are cut. */
export function table(
	columns: readonly Column[],
	rows: readonly (readonly string[])[],
	options: { readonly width: number; readonly paint: Paint; readonly indent?: number },
): string {
	const indent = options.indent ?? 2;
	const widths = columns.map((column, i) =>
		Math.max(visible(column.title), ...(column.wrap ? [] : rows.map((row) => visible(row[i] ?? "")))),
	);
	const before = widths.slice(0, -1).reduce((sum, w) => sum + w + 2, indent);
	const last = columns.length - 1;
	if (columns[last]?.wrap) widths[last] = Math.max(24, options.width - before);
	const print = (cells: readonly string[]): string =>
		`${" ".repeat(indent)}${columns.map((c, i) => pad(cells[i] ?? "", widths[i]!, c.align)).join("  ")}`.trimEnd();
	const lines: string[] = [];
	if (columns.some((c) => c.title !== "")) lines.push(options.paint.dim(print(columns.map((c) => c.title))));
	for (const row of rows) {
		if (!columns[last]?.wrap) {
			lines.push(print(row));
			continue;
		}
		wrapWords(row[last] ?? "", widths[last]!).forEach((line, k) => {
			lines.push(print(columns.map((_, i) => (i === last ? line : k === 0 ? (row[i] ?? "") : ""))));
		});
	}
	return lines.map((line) => `${line}\n`).join("");
}
