/**
 * Rows of cells of text as a spreadsheet copies it (tabs) or saves it (commas or semicolons; RFC 4180 quotes). Empty lines are left out.
 * A tab anywhere outside quotes makes tabs the separator, else a semicolon does, else the comma.
 */
export function readDelimited(text: string): {
	readonly separator: string;
	readonly rows: readonly (readonly string[])[];
} {
	const bare = text.replace(/"(?:[^"]|"")*"/g, "");
	const separator = bare.includes("\t") ? "\t" : bare.includes(";") ? ";" : ",";
	const rows: string[][] = [];
	let row: string[] = [];
	let cell = "";
	let quoted = false;
	const endCell = (): void => {
		row.push(cell.trim());
		cell = "";
	};
	const endRow = (): void => {
		endCell();
		if (row.some((each) => each !== "")) rows.push(row);
		row = [];
	};
	for (let i = 0; i < text.length; i++) {
		const char = text[i]!;
		if (quoted) {
			if (char !== '"') cell += char;
			else if (text[i + 1] === '"') {
				cell += char;
				i++;
			} else quoted = false;
		} else if (char === '"' && cell.trim() === "") {
			quoted = true;
			cell = "";
		} else if (char === separator) endCell();
		else if (char === "\n") endRow();
		else if (char !== "\r") cell += char;
	}
	endRow();
	return { separator, rows };
}
