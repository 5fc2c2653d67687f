import type { Axis, Look, Mark, Panel, Picture } from "../../pictures/picture.ts";
import { colourOf, setIndex, strokeOf, type Theme } from "../../pictures/theme.ts";

/** What Plotly is given: plain data, made from the neutral picture. */
export interface PlotlyFigure {
	readonly data: readonly Record<string, unknown>[];
	readonly layout: Record<string, unknown>;
}

const GAP = 0.12;

/** The same picture for Plotly: panels one above the other, looks as in SVG. Silhouettes are not drawn: those pictures stay SVG. */
export function plotlyFigure(picture: Picture, theme: Theme): PlotlyFigure {
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
		axes[`xaxis${suffix}`] = {
			...axisOf(panel.x, theme, !shared),
			anchor: `y${suffix}`,
			...(i > 0 && picture.panels[0]!.x.label === panel.x.label ? { matches: "x" } : {}),
		};
		axes[`yaxis${suffix}`] = {
			...axisOf(panel.y, theme, true),
			anchor: `x${suffix}`,
			domain: [Math.max(0, top - height), top],
			...(panel.equalScales ? { scaleanchor: `x${suffix}`, scaleratio: 1 } : {}),
		};
		const on = { xaxis: `x${suffix}`, yaxis: `y${suffix}` };
		data.push(...traces(panel, theme, on, i === 0));
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
			opacity: 0.1,
			font: { size: 54, color: theme.ink },
		});
	return {
		data,
		layout: {
			...axes,
			shapes,
			annotations,
			showlegend: false,
			margin: { l: 64, r: 20, t: 12, b: 44 },
			paper_bgcolor: "rgba(0,0,0,0)",
			plot_bgcolor: "rgba(0,0,0,0)",
			font: { family: "system-ui, sans-serif", size: 12, color: theme.ink },
			hovermode: "closest",
			hoverlabel: { bgcolor: theme.paper, bordercolor: theme.quiet, font: { color: theme.ink } },
			dragmode: false,
		},
	};
}

function axisOf(axis: Axis, theme: Theme, named: boolean): Record<string, unknown> {
	const title = axis.unit ? `${axis.label}, ${axis.unit}` : axis.label;
	return {
		type: axis.scale,
		gridcolor: theme.grid,
		zeroline: false,
		linecolor: theme.ink,
		tickcolor: theme.quiet,
		tickfont: { color: theme.quiet },
		title: { text: named ? title : "", font: { size: 12 }, standoff: 6 },
		...(axis.scale === "log" ? { dtick: 1 } : axis.tickStep === null ? {} : { dtick: axis.tickStep }),
		...(axis.range === null
			? {}
			: { range: axis.scale === "log" ? axis.range.map((v) => Math.log10(v)) : [...axis.range] }),
	};
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
): Record<string, unknown>[] {
	const list: Record<string, unknown>[] = [];
	const { field } = panel;
	if (field) {
		const columns = field.x.length;
		const z = Array.from({ length: field.y.length }, (_, row) =>
			Array.from({ length: columns }, (_, k) => {
				const value = field.values[row * columns + k]!;
				return Number.isFinite(value) ? value : null;
			}),
		);
		const grid = { x: Array.from(field.x), y: Array.from(field.y), z, ...on };
		list.push({
			...grid,
			type: "heatmap",
			colorscale: [
				[0, theme.shades[0]],
				[1, theme.shades[1]],
			],
			colorbar: {
				title: { text: field.unit ? `${field.label}, ${field.unit}` : field.label, side: "right" },
				thickness: 12,
			},
			hovertemplate: `${panel.x.label} %{x:.4~g}<br>${panel.y.label} %{y:.4~g}<br>${field.label} %{z:.3~g}<extra></extra>`,
			hoverongaps: false,
			name: field.label,
		});
		list.push({
			...grid,
			type: "contour",
			contours: { coloring: "none", showlabels: true },
			ncontours: 6,
			line: { color: theme.quiet, width: 1 },
			showscale: false,
			hoverinfo: "skip",
		});
		if (field.outline !== null)
			list.push({
				...grid,
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
			opacity: series.look.weight === "faint" ? 0.25 : 1,
			...on,
			showlegend: first,
			hovertemplate: `%{x:.4~g} ${panel.x.unit}<br>%{y:.4~g} ${panel.y.unit}<extra>${series.look.letter || series.name}</extra>`,
		});
	return list;
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
				line: lineOf(mark.look, theme),
				fillcolor: colourOf(mark.look, theme),
				opacity: 0.15,
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
