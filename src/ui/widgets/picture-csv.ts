import type { Picture } from "../../pictures/picture.ts";

const quoted = (text: string): string => (/[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);

/** Every curve of a picture as CSV, one row per point: panel, curve, x, y with their units. Fields row by row as 'cells'. */
export function pictureCsv(picture: Picture): string {
	const rows: string[][] = [["panel", "curve", "x", "y", "value"]];
	for (const panel of picture.panels) {
		const named = (label: string, unit: string): string => (unit ? `${label} (${unit})` : label);
		const name = `${named(panel.y.label, panel.y.unit)} over ${named(panel.x.label, panel.x.unit)}`;
		for (const series of panel.series)
			for (let i = 0; i < series.x.length; i++)
				rows.push([name, series.look.letter || series.name, String(series.x[i]), String(series.y[i]), ""]);
		const { field } = panel;
		if (field)
			for (let row = 0; row < field.y.length; row++)
				for (let column = 0; column < field.x.length; column++) {
					const value = field.values[row * field.x.length + column]!;
					rows.push([
						name,
						named(field.label, field.unit),
						String(field.x[column]),
						String(field.y[row]),
						Number.isFinite(value) ? String(value) : "",
					]);
				}
		for (const mark of panel.marks)
			if (mark.kind === "silhouette")
				rows.push([
					name,
					mark.look.letter,
					String(mark.x),
					String(mark.y),
					String((mark.angleRad * 180) / Math.PI),
				]);
	}
	return `${rows.map((row) => row.map(quoted).join(",")).join("\r\n")}\r\n`;
}
