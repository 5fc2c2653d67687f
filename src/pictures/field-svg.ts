import type { Field } from "./picture.ts";
import type { Scale } from "./scale.ts";
import { shade, type Theme } from "./theme.ts";
import { element, pixels } from "./xml.ts";

const LEVELS = 14;

export interface FieldRange {
	readonly low: number;
	readonly high: number;
}

/** What the shades span: from the outline (or the least value) to the greatest. */
export function fieldRange(field: Field): FieldRange | null {
	let low = Number.POSITIVE_INFINITY;
	let high = Number.NEGATIVE_INFINITY;
	for (let i = 0; i < field.values.length; i++) {
		const value = field.values[i]!;
		if (!Number.isFinite(value)) continue;
		low = Math.min(low, value);
		high = Math.max(high, value);
	}
	if (low > high) return null;
	return {
		low: field.outline === null || field.edge ? low : Math.min(Math.max(field.outline, low), high),
		high,
	};
}

/** Shaded cells, neighbours of one shade joined along the row, and the outline. */
export function fieldSvg(field: Field, x: Scale, y: Scale, theme: Theme): string {
	const range = fieldRange(field);
	if (!range) return "";
	const columns = edges(field.x, x);
	const rows = edges(field.y, y);
	const width = field.x.length;
	const colour = (value: number): string | null => {
		if (!Number.isFinite(value)) return null;
		if (field.outline !== null && !field.edge && value < field.outline) return theme.below;
		const share = range.high > range.low ? (value - range.low) / (range.high - range.low) : 0;
		return shade(theme, Math.min(LEVELS - 1, Math.floor(share * LEVELS)) / (LEVELS - 1));
	};
	let cells = "";
	for (let j = 0; j < field.y.length; j++)
		for (let i = 0; i < width; ) {
			const fill = colour(field.values[j * width + i]!);
			const start = i;
			while (i < width && colour(field.values[j * width + i]!) === fill) i++;
			if (fill)
				cells += element("rect", {
					x: columns[start]!,
					y: Math.min(rows[j]!, rows[j + 1]!),
					width: columns[i]! - columns[start]!,
					height: Math.abs(rows[j + 1]! - rows[j]!),
					fill,
				});
		}
	const outline = field.outline === null ? "" : outlinePath(field, field.outline, x, y);
	return (
		element("g", { "shape-rendering": "crispEdges" }, cells) +
		(outline &&
			element("path", {
				d: outline,
				fill: "none",
				stroke: theme.ink,
				"stroke-width": 1.75,
				"stroke-linecap": "round",
			}))
	);
}

/** Cell borders in pixels: half way to each neighbour as drawn. */
function edges(values: ArrayLike<number>, scale: Scale): number[] {
	const at = Array.from(values, (v) => scale.at(v));
	if (at.length < 2) return at.length === 0 ? [0] : [at[0]! - 4, at[0]! + 4];
	const inner = at.slice(1).map((p, i) => (p + at[i]!) / 2);
	return [2 * at[0]! - inner[0]!, ...inner, 2 * at[at.length - 1]! - inner[inner.length - 1]!];
}

/** Marching squares with linear interpolation between grid points; squares with a missing corner are left out. */
function outlinePath(field: Field, level: number, x: Scale, y: Scale): string {
	const width = field.x.length;
	let path = "";
	for (let j = 0; j + 1 < field.y.length; j++)
		for (let i = 0; i + 1 < width; i++) {
			const corners = [
				[i, j],
				[i + 1, j],
				[i + 1, j + 1],
				[i, j + 1],
			].map(([a, b]) => ({
				x: x.at(field.x[a!]!),
				y: y.at(field.y[b!]!),
				v: (field.edge ?? field.values)[b! * width + a!]! - level,
			}));
			if (!corners.every((c) => Number.isFinite(c.v))) continue;
			const cuts: string[] = [];
			corners.forEach((c, k) => {
				const d = corners[(k + 1) % 4]!;
				if (c.v < 0 === d.v < 0) return;
				const share = c.v / (c.v - d.v);
				cuts.push(`${pixels(c.x + share * (d.x - c.x))} ${pixels(c.y + share * (d.y - c.y))}`);
			});
			for (let k = 0; k + 1 < cuts.length; k += 2) path += `M${cuts[k]}L${cuts[k + 1]}`;
		}
	return path;
}
