import { fieldRange } from "../../pictures/field-svg.ts";
import type { Axis, Look, Mark, Panel, Picture } from "../../pictures/picture.ts";
import { panelScales, type Scale } from "../../pictures/scale.ts";
import { colourOf, setIndex, strokeOf, type Theme } from "../../pictures/theme.ts";

/** What Plotly is given: plain data, made from the neutral picture. */
export interface PlotlyFigure {
	readonly data: readonly Record<string, unknown>[];
	readonly layout: Record<string, unknown>;
}

const GAP = 0.14;
const MARGIN = { l: 64, r: 28, t: 26, b: 40 };
const SERIF = "Iowan Old Style, Palatino Linotype, Palatino, Georgia, DejaVu Serif, serif";

/** The same picture for Plotly: panels one above the other, looks as in SVG. Silhouettes are not drawn: those pictures stay SVG. */
export function plotlyFigure(
	picture: Picture,
	theme: Theme,
	size: { readonly width: number; readonly height: number } = { width: 760, height: 400 },
	contours = true,
): PlotlyFigure {
	const data: Record<string, unknown>[] = [];
	const shapes: Record<string, unknown>[] = [];
	const annotations: Record<string, unknown>[] = [];
	const axes: Record<string, unknown> = {};
	const weight = picture.panels.reduce((sum, panel) => sum + panel.weight, 0);
	const room = 1 - GAP * (picture.panels.length - 1);
	let top = 1;
	picture.panels.forEach((panel, i) => {
		const suffix = i === 0 ? "" : String(i + 1);
		const height = (room * panel.weight) / weight;
		const shared = picture.panels[i + 1]?.x.label === panel.x.label;
		const on = { xaxis: `x${suffix}`, yaxis: `y${suffix}` };
		const box = {
			left: 0,
			top: 0,
			width: Math.max(1, size.width - MARGIN.l - MARGIN.r),
			height: Math.max(1, (size.height - MARGIN.t - MARGIN.b) * height),
		};
		const scales = panelScales(panel, box);
		axes[`xaxis${suffix}`] = {
			...axisOf(panel.x, scales.x, Math.max(2, Math.round(box.width / 90)), panel.equalScales, theme),
			showline: true,
			anchor: `y${suffix}`,
			...(i > 0 && picture.panels[0]!.x.label === panel.x.label ? { matches: "x" } : {}),
		};
		axes[`yaxis${suffix}`] = {
			...axisOf(panel.y, scales.y, Math.max(3, Math.round(box.height / 42)), panel.equalScales, theme),
			anchor: `x${suffix}`,
			domain: [Math.max(0, top - height), top],
			...(panel.equalScales ? { scaleanchor: `x${suffix}`, scaleratio: 1 } : {}),
		};
		annotations.push(...axisNames(panel, on, !shared, theme));
		annotations.push(...letters(panel, on, scales.x, scales.y, theme));
		data.push(...traces(panel, theme, on, i === 0, contours));
		for (const mark of panel.marks)
			addMark(mark, theme, `x${suffix}`, `y${suffix}`, panel, shapes, annotations);
		top -= height + GAP;
	});
	if (picture.invented)
		annotations.push({
			text: "Invented craft",
			xref: "paper",
			yref: "paper",
			x: 0.5,
			y: 0.5,
			showarrow: false,
			textangle: -14,
			opacity: 0.085,
			font: { size: Math.round(size.width / 11), color: theme.ink, family: SERIF, style: "italic" },
		});
	return {
		data,
		layout: {
			...axes,
			shapes,
			annotations,
			showlegend: false,
			margin: MARGIN,
			paper_bgcolor: "rgba(0,0,0,0)",
			plot_bgcolor: "rgba(0,0,0,0)",
			font: { family: "system-ui, sans-serif", size: 12, color: theme.ink },
			hovermode: "closest",
			hoverlabel: { bgcolor: theme.paper, bordercolor: theme.quiet, font: { color: theme.ink } },
			dragmode: false,
		},
	};
}

function axisOf(
	axis: Axis,
	scale: Scale,
	count: number,
	equal: boolean,
	theme: Theme,
): Record<string, unknown> {
	const common = {
		type: axis.scale,
		gridcolor: theme.grid,
		zeroline: false,
		linecolor: theme.ink,
		tickfont: { color: theme.quiet },
	};
	// One length on both axes: the ranges follow from the room, and so do the ticks.
	if (equal) return { ...common, ...(axis.range ? { range: [...axis.range] } : {}) };
	const ticks = scale.ticks(count);
	const ends = [scale.low, scale.high];
	return {
		...common,
		range: axis.scale === "log" ? ends.map((v) => Math.log10(v)) : ends,
		tickmode: "array",
		tickvals: ticks.map((tick) => tick.value),
		ticktext: ticks.map((tick) => tick.label),
	};
}

/** What the axes are, where the SVG says it too: above the panel at the left, below it at the right. */
function axisNames(
	panel: Panel,
	{ xaxis, yaxis }: { readonly xaxis: string; readonly yaxis: string },
	nameX: boolean,
	theme: Theme,
): Record<string, unknown>[] {
	const words = (axis: Axis): string => (axis.unit ? `${axis.label}, ${axis.unit}` : axis.label);
	const common = {
		xref: `${xaxis} domain`,
		yref: `${yaxis} domain`,
		showarrow: false,
		font: { size: 12, color: theme.ink },
	};
	return [
		{ ...common, text: words(panel.y), x: 0, y: 1, xanchor: "left", yanchor: "bottom", yshift: 2 },
		...(nameX
			? [{ ...common, text: words(panel.x), x: 1, y: 0, xanchor: "right", yanchor: "top", yshift: -19 }]
			: []),
	];
}

/** Each set's letter on its line, at its own place along it. */
function letters(
	panel: Panel,
	{ xaxis, yaxis }: { readonly xaxis: string; readonly yaxis: string },
	x: Scale,
	y: Scale,
	theme: Theme,
): Record<string, unknown>[] {
	return panel.series.flatMap((series) => {
		const { letter, weight } = series.look;
		if (letter === "" || weight === "faint") return [];
		const inside: number[] = [];
		for (let i = 0; i < series.x.length; i++) {
			const [vx, vy] = [series.x[i]!, series.y[i]!];
			if (vx >= x.low && vx <= x.high && vy >= y.low && vy <= y.high) inside.push(i);
		}
		if (inside.length === 0) return [];
		const [a, b] = [x.at(series.x[inside[0]!]!), x.at(series.x[inside[inside.length - 1]!]!)];
		const target = a + (0.3 + 0.09 * setIndex(letter)) * (b - a);
		let best = inside[0]!;
		for (const i of inside)
			if (Math.abs(x.at(series.x[i]!) - target) < Math.abs(x.at(series.x[best]!) - target)) best = i;
		const at = (value: number, log: boolean): number => (log ? Math.log10(value) : value);
		return [
			{
				text: `<b>${letter}</b>`,
				xref: xaxis,
				yref: yaxis,
				x: at(series.x[best]!, panel.x.scale === "log"),
				y: at(series.y[best]!, panel.y.scale === "log"),
				showarrow: false,
				font: { size: 11, color: theme.ink },
				bgcolor: theme.paper,
				bordercolor: colourOf(series.look, theme),
				borderwidth: 1.5,
				borderpad: 3,
			},
		];
	});
}

const DASHES = ["solid", "9px,4px", "2.5px,3.5px", "11px,3px,2.5px,3px", "5px,3px", "13px,3px,2.5px,3px"];

function lineOf(look: Look, theme: Theme): Record<string, unknown> {
	const width = strokeOf(look, theme)["stroke-width"];
	const dash =
		look.dash === "dotted"
			? "1px,4px"
			: look.dash === "set" && look.letter
				? DASHES[setIndex(look.letter)]
				: "solid";
	return { color: colourOf(look, theme), width, dash };
}

function traces(
	panel: Panel,
	theme: Theme,
	on: { readonly xaxis: string; readonly yaxis: string },
	first: boolean,
	contours: boolean,
): Record<string, unknown>[] {
	const list: Record<string, unknown>[] = [];
	const { field } = panel;
	if (field) {
		const columns = field.x.length;
		const z = rowsOf(field.values, columns, field.y.length);
		const range = fieldRange(field);
		const ends = range ? [range.low, range.high] : [];
		const grid = { x: Array.from(field.x), y: Array.from(field.y), z, ...on };
		list.push({
			...grid,
			type: "heatmap",
			...(range ? { zmin: range.low, zmax: range.high } : {}),
			colorscale: [
				[0, theme.shades[0]],
				[1, theme.shades[1]],
			],
			colorbar: {
				orientation: "h",
				thickness: 9,
				len: 0.4,
				x: 1,
				xanchor: "right",
				y: 1,
				yanchor: "bottom",
				ypad: 2,
				outlinewidth: 0,
				tickmode: "array",
				tickvals: ends,
				ticktext: ends.map((v) => v.toFixed(ends[1]! - ends[0]! < 5 ? 2 : 1)),
				ticklabelposition: "outside top",
				tickfont: { color: theme.quiet, size: 11 },
			},
			hovertemplate: `${panel.x.label} %{x:.4~g}<br>${panel.y.label} %{y:.4~g}<br>${field.label} %{z:.3~g}<extra></extra>`,
			hoverongaps: false,
			name: field.label,
		});
		if (contours)
			list.push({
				...grid,
				type: "contour",
				contours: { coloring: "none" },
				ncontours: 6,
				line: { color: theme.quiet, width: 1 },
				showscale: false,
				hoverinfo: "skip",
			});
		if (field.outline !== null)
			list.push({
				...grid,
				...(field.edge ? { z: rowsOf(field.edge, columns, field.y.length) } : {}),
				type: "contour",
				contours: { coloring: "none", start: field.outline, end: field.outline, size: 1 },
				line: { color: theme.ink, width: 2.2 },
				showscale: false,
				hoverinfo: "skip",
			});
	}
	for (const series of panel.series)
		list.push({
			type: "scatter",
			mode: "lines",
			name: series.name,
			x: Array.from(series.x),
			y: Array.from(series.y),
			line: lineOf(series.look, theme),
			opacity: series.look.weight === "faint" ? 0.18 : 1,
			...on,
			showlegend: first,
			hovertemplate: `%{x:.4~g} ${panel.x.unit}<br>%{y:.4~g} ${panel.y.unit}<extra>${series.look.letter || series.name}</extra>`,
		});
	return list;
}

/** @param hex six digits @param opacity 0..1 */
function faded(hex: string, opacity: number): string {
	return `${hex}${Math.round(255 * opacity)
		.toString(16)
		.padStart(2, "0")}`;
}

/** As Plotly takes them: a list of rows, null where there is no answer. */
function rowsOf(values: ArrayLike<number>, columns: number, rows: number): (number | null)[][] {
	return Array.from({ length: rows }, (_, row) =>
		Array.from({ length: columns }, (_, k) => {
			const value = values[row * columns + k]!;
			return Number.isFinite(value) ? value : null;
		}),
	);
}

function addMark(
	mark: Mark,
	theme: Theme,
	xref: string,
	yref: string,
	panel: Panel,
	shapes: Record<string, unknown>[],
	annotations: Record<string, unknown>[],
): void {
	const atX = (x: number): number => (panel.x.scale === "log" ? Math.log10(x) : x);
	const atY = (y: number): number => (panel.y.scale === "log" ? Math.log10(y) : y);
	const say = (text: string, x: number, y: number, change: Record<string, unknown> = {}): void => {
		if (text)
			annotations.push({
				text,
				xref,
				yref,
				x: atX(x),
				y: atY(y),
				showarrow: false,
				xanchor: "left",
				xshift: 8,
				font: { size: 12, color: theme.ink },
				...change,
			});
	};
	switch (mark.kind) {
		case "vertical":
			shapes.push({
				type: "line",
				xref,
				yref: `${yref} domain`,
				x0: mark.x,
				x1: mark.x,
				y0: 0,
				y1: 1,
				line: lineOf(mark.look, theme),
			});
			if (mark.text)
				annotations.push({
					text: mark.text,
					xref,
					yref: `${yref} domain`,
					x: atX(mark.x),
					y: 1,
					showarrow: false,
					xanchor: "left",
					xshift: 4,
				});
			return;
		case "horizontal":
			shapes.push({
				type: "line",
				xref: `${xref} domain`,
				yref,
				x0: 0,
				x1: 1,
				y0: mark.y,
				y1: mark.y,
				line: lineOf(mark.look, theme),
			});
			return;
		case "span":
			shapes.push({
				type: "line",
				xref,
				yref,
				x0: mark.from[0],
				y0: mark.from[1],
				x1: mark.to[0],
				y1: mark.to[1],
				line: { color: colourOf(mark.look, theme), width: 2.5 },
			});
			say(mark.text, mark.to[0], mark.to[1]);
			return;
		case "region": {
			const path = Array.from(mark.x, (x, i) => `${i === 0 ? "M" : "L"}${x},${mark.y[i]}`).join("");
			shapes.push({
				type: "path",
				xref,
				yref,
				path: `${path}Z`,
				line: {
					...lineOf(mark.look, theme),
					color: faded(colourOf(mark.look, theme), mark.look.weight === "faint" ? 0.18 : 1),
				},
				fillcolor: faded(colourOf(mark.look, theme), 0.07),
				layer: "below",
			});
			say(mark.text, mark.x[0] ?? 0, mark.y[0] ?? 0);
			return;
		}
		case "point":
			say(
				mark.look.letter ? `<b>${mark.look.letter}</b> ${mark.text}` : `\u25cb ${mark.text}`,
				mark.x,
				mark.y,
				{
					xanchor: "center",
					xshift: 0,
				},
			);
			return;
		case "text":
			say(mark.text, mark.x, mark.y);
			return;
		case "silhouette":
			return;
	}
}
