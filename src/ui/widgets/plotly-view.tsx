import { useEffect, useRef, useState } from "preact/hooks";
import type { Picture } from "../../pictures/picture.ts";
import { THEMES } from "../../pictures/theme.ts";
import { theme } from "../state/theme.ts";
import { BarePicture, PictureView } from "./picture-view.tsx";
import { plotlyFigure } from "./plotly-figure.ts";
import { PlottedFigure } from "./plotted-figure.tsx";

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
	contours = true,
	light = false,
	onDrawn,
}: {
	readonly picture: Picture;
	readonly heightPx: number;
	readonly stale?: boolean;
	/** Lines of equal value over a field: a third of the work, so not while it still fills. */
	readonly contours?: boolean;
	/** Changes faster than Plotly can draw, which takes some 50 ms and more: SVG until it rests. */
	readonly light?: boolean;
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
	const size = useSize(box, library !== null);
	useEffect(() => {
		const element = box.current;
		if (!library || !element || size.width === 0 || light) return;
		const { data, layout } = plotlyFigure(picture, colours, size, contours);
		void library
			.react(element, data as never, { ...layout, ...size } as never, { displayModeBar: false })
			.then(() => onDrawn?.(element));
	}, [library, picture, colours, size, contours, light, onDrawn]);
	useEffect(() => {
		const element = box.current;
		return () => {
			if (library && element) library.purge(element);
		};
	}, [library]);
	if (!library) return <PictureView picture={picture} heightPx={heightPx} stale={stale} />;
	return (
		<>
			{light ? <BarePicture picture={picture} heightPx={heightPx} stale={stale} /> : null}
			<PlottedFigure picture={picture} heightPx={heightPx} stale={stale} box={box} away={light} />
		</>
	);
}

/** Width and height of an element as the page lays it out. */
function useSize(box: { readonly current: HTMLElement | null }, there: boolean) {
	const [size, setSize] = useState({ width: 0, height: 0 });
	useEffect(() => {
		const element = box.current;
		if (!there || !element) return undefined;
		const observer = new ResizeObserver(([entry]) => {
			if (!entry) return;
			const width = Math.round(entry.contentRect.width);
			const height = Math.round(entry.contentRect.height);
			setSize((before) => (before.width === width && before.height === height ? before : { width, height }));
		});
		observer.observe(element);
		return () => observer.disconnect();
	}, [box, there]);
	return size;
}
