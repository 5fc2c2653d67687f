import { useEffect, useRef, useState } from "preact/hooks";
import type uPlot from "uplot";
import type { Picture } from "../../pictures/picture.ts";
import { colourOf, setIndex, strokeOf, THEMES, type Theme } from "../../pictures/theme.ts";
import { theme } from "../state/theme.ts";
import { PictureView } from "./picture-view.tsx";
import { PlottedFigure } from "./plotted-figure.tsx";
import { ensureValidLanguage } from "./valid-language.ts";
import "uplot/dist/uPlot.min.css";

type UPlot = typeof uPlot;
let loading: Promise<UPlot> | null = null;

/** Small beside the other chart library: fetched as soon as curves are first shown. */
function uplot(): Promise<UPlot> {
	if (!loading) {
		// It makes a number format in the navigator's language as it is loaded.
		ensureValidLanguage(navigator);
		loading = import("uplot").then((found) => found.default);
	}
	return loading;
}

const SANS = "12px system-ui, sans-serif";

/** A picture of one panel of curves over one axis, redrawn as fast as it changes; SVG until the library is there. */
export function LiveCurves({
	picture,
	heightPx,
	stale = false,
}: {
	readonly picture: Picture;
	readonly heightPx: number;
	readonly stale?: boolean;
}) {
	const box = useRef<HTMLDivElement>(null);
	const chart = useRef<{ readonly plot: uPlot; readonly shape: string } | null>(null);
	const [library, setLibrary] = useState<UPlot | null>(null);
	const [size, setSize] = useState({ width: 0, height: 0 });
	useEffect(() => {
		let wanted = true;
		void uplot().then(
			(found) => {
				if (wanted) setLibrary(() => found);
			},
			(error: unknown) => {
				// Without the library the SVG stays, which shows the same.
				console.warn("the chart library could not be loaded", error);
			},
		);
		return () => {
			wanted = false;
		};
	}, []);
	useEffect(() => {
		const element = box.current;
		if (!library || !element) return undefined;
		const observer = new ResizeObserver(([entry]) => {
			if (entry)
				setSize({ width: Math.round(entry.contentRect.width), height: Math.round(entry.contentRect.height) });
		});
		observer.observe(element);
		return () => {
			observer.disconnect();
			chart.current?.plot.destroy();
			chart.current = null;
		};
	}, [library]);
	const colours = THEMES[theme.value];
	useEffect(() => {
		const element = box.current;
		if (!library || !element || size.width === 0) return;
		const panel = picture.panels[0]!;
		const data = joined(library, panel.series);
		const shape = JSON.stringify([
			panel.x,
			panel.y,
			panel.series.map((each) => [each.name, each.look]),
			theme.value,
		]);
		if (chart.current?.shape === shape) {
			const { plot } = chart.current;
			if (plot.width !== size.width || plot.height !== size.height) plot.setSize(size);
			plot.setData(data);
			return;
		}
		chart.current?.plot.destroy();
		chart.current = { plot: new library(optionsOf(picture, colours, size), data, element), shape };
	}, [library, picture, colours, size]);
	if (!library) return <PictureView picture={picture} heightPx={heightPx} stale={stale} />;
	return <PlottedFigure picture={picture} heightPx={heightPx} stale={stale} box={box} wordsOver />;
}

/** All curves over the times of any of them. */
function joined(library: UPlot, series: Picture["panels"][0]["series"]): uPlot.AlignedData {
	const tables = series.map(({ x, y }) => {
		const n = Math.min(x.length, y.length);
		return [
			Array.from({ length: n }, (_, i) => x[i]!),
			Array.from({ length: n }, (_, i) => y[i]!),
		] as uPlot.AlignedData;
	});
	return tables.length === 0 ? [[]] : library.join(tables);
}

function optionsOf(
	picture: Picture,
	colours: Theme,
	size: { readonly width: number; readonly height: number },
): uPlot.Options {
	const panel = picture.panels[0]!;
	const words = ({ label, unit }: { readonly label: string; readonly unit: string }) =>
		unit ? `${label}, ${unit}` : label;
	const axis = {
		stroke: colours.quiet,
		font: SANS,
		ticks: { show: false },
		grid: { stroke: colours.grid, width: 1 },
	};
	return {
		...size,
		padding: [24, 28, 18, 0],
		legend: { show: false },
		cursor: { show: false },
		select: { show: false, left: 0, top: 0, width: 0, height: 0 },
		scales: { x: { time: false } },
		axes: [
			{ ...axis, border: { show: true, stroke: colours.ink, width: 1 }, size: 24, gap: 4, space: 90 },
			{
				...axis,
				size: 64,
				gap: 6,
				space: 42,
				values: (_, ticks) => ticks.map((v) => String(Number(v.toPrecision(6))).replace("-", "\u2212")),
			},
		],
		series: [
			{},
			...panel.series.map(({ look, name }) => {
				const drawn = strokeOf(look, colours);
				const dash = String(drawn["stroke-dasharray"] ?? "");
				return {
					label: name,
					stroke: colourOf(look, colours),
					width: Number(drawn["stroke-width"]),
					...(look.weight === "faint" ? { alpha: 0.35 } : {}),
					...(dash ? { dash: dash.split(" ").map(Number) } : {}),
					points: { show: false },
					spanGaps: true,
				};
			}),
		],
		hooks: {
			draw: [
				(plot) => {
					const { ctx, bbox } = plot;
					const ratio = devicePixelRatio;
					ctx.save();
					ctx.font = `${12 * ratio}px system-ui, sans-serif`;
					ctx.fillStyle = colours.ink;
					ctx.textBaseline = "bottom";
					ctx.textAlign = "left";
					ctx.fillText(words(panel.y), bbox.left, bbox.top - 6 * ratio);
					ctx.textAlign = "right";
					ctx.textBaseline = "top";
					ctx.fillText(words(panel.x), bbox.left + bbox.width, bbox.top + bbox.height + 23 * ratio);
					ctx.textAlign = "center";
					ctx.textBaseline = "middle";
					ctx.font = `700 ${11 * ratio}px system-ui, sans-serif`;
					panel.series.forEach(({ look }, k) => {
						if (look.letter === "" || look.weight === "faint") return;
						const at = letterPlace(plot, k + 1, 0.3 + 0.09 * setIndex(look.letter));
						if (!at) return;
						ctx.beginPath();
						ctx.arc(at[0], at[1], 8 * ratio, 0, 2 * Math.PI);
						ctx.fillStyle = colours.paper;
						ctx.fill();
						ctx.strokeStyle = colourOf(look, colours);
						ctx.lineWidth = 1.5 * ratio;
						ctx.stroke();
						ctx.fillStyle = colours.ink;
						ctx.fillText(look.letter, at[0], at[1] + ratio / 2);
					});
					ctx.restore();
				},
			],
		},
	};
}

/** Canvas pixels of the point of a curve at a share of its way across; null where it has none. */
function letterPlace(plot: uPlot, k: number, share: number): readonly [number, number] | null {
	const times = plot.data[0];
	const values = plot.data[k];
	if (!values || times.length === 0) return null;
	const from = values.findIndex((v) => v != null);
	let to = values.length - 1;
	while (to > from && values[to] == null) to--;
	if (from < 0) return null;
	let i = Math.round(from + share * (to - from));
	while (i > from && values[i] == null) i--;
	return [plot.valToPos(times[i]!, "x", true), plot.valToPos(values[i]!, "y", true)];
}
