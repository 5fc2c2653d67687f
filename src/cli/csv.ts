export type CsvCell = string | number | boolean | null;

/** RFC 4180, lines ended by a line feed; null is an empty field, numbers keep every digit. */
export function csv(header: readonly string[], rows: Iterable<readonly CsvCell[]>): string {
	const lines = [header.map(field).join(",")];
	for (const row of rows) {
		if (row.length !== header.length)
			throw new RangeError(`csv: a row of ${row.length} fields, expected ${header.length}`);
		lines.push(row.map(field).join(","));
	}
	return `${lines.join("\n")}\n`;
}

function field(cell: CsvCell): string {
	if (cell === null) return "";
	if (typeof cell === "number" && !Number.isFinite(cell))
		throw new RangeError(`csv: ${cell} is not a finite number`);
	const text = String(cell);
	return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
