import { useEffect, useRef, useState } from "preact/hooks";
import type { Picture } from "../../pictures/picture.ts";
import { THEMES } from "../../pictures/theme.ts";
import { theme } from "../state/theme.ts";
import { PictureView } from "./picture-view.tsx";
import { plotlyFigure } from "./plotly-figure.ts";

type Plotly = typeof import("plotly.js-dist-min");
let loading: Promise<Plotly> | null = null;

/** The chart library, fetched once and only when the page has nothing better to do. */
function plotly(): Promise<Plotly> {
	loading ??= new Promise((resolve, reject) => {
		const begin = (): void => {
			import("plotly.js-dist-min").then((module) => resolve(module as unknown as Plotly), reject);
		};
		if ("requestIdleCallback" in globalThis) requestIdleCallback(begin, { timeout: 3000 });
		else setTimeout(begin, 300);
	});
	return loading;
}

/** A picture that can be pointed into: SVG at once, Plotly as soon as it is there. Headings and notes are those of the SVG. */
export function PlotlyView({
	picture,
	heightPx,
	stale = false,
	onDrawn,
}: {
	readonly picture: Picture;
	readonly heightPx: number;
	readonly stale?: boolean;
	/** After each drawing, with the element that Plotly drew into. */
	readonly onDrawn?: (element: HTMLElement) => void;
}) {
	const box = useRef<HTMLDivElement>(null);
	const [library, setLibrary] = useState<Plotly | null>(null);
	useEffect(() => {
		let wanted = true;
		void plotly().then(
			(found) => {
				if (wanted) setLibrary(() => found);
			},
			() => {
				// Without the library the SVG stays, which shows the same.
			},
		);
		return () => {
			wanted = false;
		};
	}, []);
	const colours = THEMES[theme.value];
	useEffect(() => {
		const element = box.current;
		if (!library || !element) return;
		const { data, layout } = plotlyFigure(picture, colours);
		void library
			.react(element, data as never, { ...layout, height: heightPx, autosize: true } as never, {
				displayModeBar: false,
				responsive: true,
			})
			.then(() => onDrawn?.(element));
	}, [library, picture, colours, heightPx, onDrawn]);
	useEffect(() => {
		const element = box.current;
		return () => {
			if (library && element) library.purge(element);
		};
	}, [library]);
	if (!library) return <PictureView picture={picture} stale={stale} />;
	return (
		<figure class={stale ? "picture stale" : "picture"} aria-busy={stale}>
			<figcaption>
				<h3>{picture.title}</h3>
				<p class="visually-hidden">{picture.description}</p>
			</figcaption>
			<div ref={box} />
			<p class="quiet small">{picture.note}</p>
		</figure>
	);
}
